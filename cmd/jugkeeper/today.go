package main

import (
	"cmp"
	"fmt"
	"io"
	"maps"
	"runtime/debug"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui"
	"cellar/jugkeeper/tui/board"
)

func todayCommand(w world, f *flags) *cobra.Command {
	var days, width int
	var one, ask bool
	cmd := &cobra.Command{
		Use:               "today [NAME…]",
		Short:             "Show what each vessel needs today",
		Example:           "  jugkeeper today\n  jugkeeper today bh-a --days 7\n  jugkeeper today --line --exit-code\n  jugkeeper today --json",
		ValidArgsFunction: w.completeNames(f, 99, session.subjects),
		RunE: func(_ *cobra.Command, given []string) error {
			if err := sensibleDays(days); err != nil {
				return err
			}
			s, err := w.openToShow(*f)
			if err != nil {
				return err
			}
			if days > 0 {
				s.first = foreseen(s.first, days)
			}
			ids, chosen, err := s.chosen(given)
			if err != nil {
				return err
			}
			shown := narrowed(s.first, chosen, len(given) > 0)
			switch {
			case one && (f.json || days > 0 || width > 0):
				return usage("--line cannot be combined: leave --json, --days and --width out, e.g. jugkeeper today --line")
			case one:
				_, err = fmt.Fprintln(w.stdout, words.Of(shown).OneLine())
			case f.json:
				err = writeJSON(w.stdout, todayOf(s.first, chosen, days))
			default:
				err = w.paper(*f, shown, days, width)
			}
			if err == nil {
				err = s.troubled(ids)
			}
			if err != nil || !ask {
				return err
			}
			return urgency(shown)
		},
	}
	cmd.Flags().BoolVar(&one, "line", false, "write one line, for a prompt or a status bar")
	cmd.Flags().BoolVar(&ask, "exit-code", false, "exit with 10 if something is late, 11 if something is dangerous")
	cmd.Flags().IntVar(&days, "days", 0, "look `N` days ahead")
	cmd.Flags().IntVar(&width, "width", 0, "make lines at most `N` columns wide, at least 30")
	return cmd
}

// urgency returns a failure with the status for danger or lateness.
func urgency(s app.Snapshot) error {
	switch danger, late := words.Of(s).Urgent(); {
	case danger:
		return &failure{status: dangerous}
	case late:
		return &failure{status: overdue}
	}
	return nil
}

// foreseen returns a snapshot planned for some days, with dates from forecasts.
func foreseen(s app.Snapshot, days int) app.Snapshot {
	ahead := func(v app.Vessel) app.Vessel {
		v, _ = app.Foreseen(v)
		v.Day = schedule.PlanAhead(v.Plan, v.Course, days)
		return v
	}
	s.Vessels, s.Cultures = ferment.Map(s.Vessels, ahead), ferment.Map(s.Cultures, ahead)
	return s
}

// chosen returns the named vessels and cultures, all of them for no name.
func (s session) chosen(names []string) (ids []string, vs []app.Vessel, err error) {
	if len(names) == 0 {
		return nil, append(append(vs, s.first.Vessels...), s.first.Cultures...), nil
	}
	for _, name := range names {
		more, err := s.named(name)
		if err != nil {
			return nil, nil, err
		}
		ids = append(ids, more...)
	}
	vs, err = s.first.FindAll(ids)
	return ids, vs, err
}

// narrowed returns a snapshot with these vessels only.
func narrowed(s app.Snapshot, vs []app.Vessel, some bool) app.Snapshot {
	if !some {
		return s
	}
	s.Vessels, s.Cultures = nil, nil
	for _, v := range vs {
		if v.Culture != nil {
			s.Cultures = append(s.Cultures, v)
		} else {
			s.Vessels = append(s.Vessels, v)
		}
	}
	s.Cellar.Problems, s.Cellar.Lots = nil, nil
	return s
}

func (w world) paper(f flags, s app.Snapshot, days, width int) error {
	columns, isTerminal := terminal(w.stdout)
	switch {
	case width != 0 && width < 30:
		return usage("--width %d is too narrow: 30 columns or more, e.g. --width 38", width)
	case width != 0:
		columns = width
	case !isTerminal:
		columns = 80
	}
	day := words.Ahead(s, days)
	if f.plain || isTerminal && w.dumb() {
		_, err := fmt.Fprint(w.stdout, board.Plain(day, columns))
		return err
	}
	_, err := fmt.Fprint(w.stdout, board.Today(day, columns, w.theme(s.Cellar.Settings, isTerminal)))
	return err
}

func sensibleDays(days int) error {
	if days < 0 || days > 366 {
		return usage("--days %d is not a number of days ahead: 0 to 366, e.g. --days 7", days)
	}
	return nil
}

func checkCommand(w world, f *flags) *cobra.Command {
	return &cobra.Command{
		Use:               "check",
		Short:             "Read every file and list problems and remarks",
		Example:           "  jugkeeper check\n  jugkeeper check --json",
		Args:              args(cobra.NoArgs),
		ValidArgsFunction: cobra.NoFileCompletions,
		RunE: func(*cobra.Command, []string) error {
			debug.SetGCPercent(usualGC) // many problems need memory
			f.metric = f.json
			s, cellar, err := w.begin(*f)
			if err != nil {
				return err
			}
			problems, remarks, err := s.app.Check(s.now)
			if err != nil {
				return err
			}
			_, told := tui.DefaultKeys().Remap(cellar.Settings.Keys)
			for _, t := range told { // invalid keys in the settings
				remarks = append(remarks, ferment.Problem{File: "cellar.yaml", Message: t.Error()})
			}
			if err := tellCheck(w, *f, problems, remarks); err != nil || len(problems) == 0 {
				return err
			}
			return &failure{status: saidNo}
		},
	}
}

func tellCheck(w world, f flags, problems, remarks []ferment.Problem) error {
	if f.json {
		return writeJSON(w.stdout, checkJSON{problemsJSON(problems), problemsJSON(remarks)})
	}
	for _, p := range problems {
		tellProblem(w.out(f), p, "")
	}
	for _, p := range remarks {
		tellProblem(w.out(f), p, " (a remark)")
	}
	if len(problems)+len(remarks) == 0 {
		fmt.Fprintln(w.out(f), "every file can be read, nothing looks unlikely")
	}
	return nil
}

// tellProblem writes a problem, and its line below it.
func tellProblem(to io.Writer, p ferment.Problem, kind string) {
	fmt.Fprintf(to, "%s%s\n", p, kind)
	if text := strings.TrimSpace(p.Text); text != "" {
		fmt.Fprintf(to, "    %s\n", text)
	}
}

func protocolCommand(w world, f *flags) *cobra.Command {
	return &cobra.Command{
		Use:   "protocol [NAME]",
		Short: "List the protocols, or print one to change",
		Example: "  jugkeeper protocol\n" +
			"  jugkeeper protocol small-jug > protocols/my-jug.yaml",
		Args:              args(cobra.MaximumNArgs(1)),
		ValidArgsFunction: w.completePlan(f),
		RunE: func(_ *cobra.Command, given []string) error {
			files, _ := w.store(*f)
			c, err := files.Check(w.clock())
			if err != nil && !w.empty(*f, err) {
				return err
			}
			if len(given) == 0 {
				return w.listProtocols(*f, c.Protocols)
			}
			return w.printProtocol(*f, c, given[0])
		},
	}
}

func (w world) listProtocols(f flags, all ferment.Plans) error {
	list := protocolsJSON{}
	var rows [][]string
	for _, name := range sortedNames(all) {
		p := all[name]()
		list.Protocols = append(list.Protocols, protocolJSON{name, p.Title, p.File, ""})
		title := p.Title
		if p.File != "" {
			title += " (" + p.File + ")"
		}
		rows = append(rows, []string{name, title})
	}
	if f.json {
		return writeJSON(w.stdout, list)
	}
	for _, row := range aligned(rows) {
		fmt.Fprintln(w.out(f), row)
	}
	return nil
}

// printProtocol prints a protocol as written, and fails if it has problems.
func (w world) printProtocol(f flags, c ferment.Cellar, name string) error {
	p, known := c.Protocols.Named(name)
	if !known {
		return usage("no protocol is called %q%s", name, ferment.Meant(name, sortedNames(c.Protocols)))
	}
	var err error
	if f.json {
		err = writeJSON(w.stdout, protocolsJSON{[]protocolJSON{{name, p.Title, p.File, p.Source}}})
	} else {
		_, err = fmt.Fprint(w.stdout, p.Source)
	}
	return cmp.Or(err, failedBy(problemsIn(c, p.File)))
}

func sortedNames[T any](all map[string]T) []string { return slices.Sorted(maps.Keys(all)) }

// table writes a table: in columns, or with --plain row by row, every cell after its heading. After an empty row
// another table begins with its headings.
func (w world) table(f flags, rows [][]string) {
	lines := aligned(rows)
	if f.plain {
		lines = spoken(rows)
	}
	for _, line := range lines {
		fmt.Fprintln(w.out(f), line)
	}
}

func aligned(table [][]string) []string {
	var widths []int
	for _, row := range table {
		for i, cell := range row {
			if i == len(widths) {
				widths = append(widths, 0)
			}
			widths[i] = max(widths[i], len([]rune(cell)))
		}
	}
	rows := make([]string, len(table))
	for n, row := range table {
		var line strings.Builder
		for i, cell := range row {
			line.WriteString(cell + strings.Repeat(" ", widths[i]-len([]rune(cell))+2))
		}
		rows[n] = strings.TrimRight(line.String(), " ")
	}
	return rows
}

// spoken returns the rows of a table as they are read aloud: "gravity: LIME-A 1.057; LIME-B 1.066; apart 0.009".
func spoken(table [][]string) []string {
	var lines, head []string
	for _, row := range table {
		switch {
		case len(row) == 0:
			head = nil
			lines = append(lines, "")
		case head == nil:
			head = row
			if row[0] != "" {
				lines = append(lines, row[0])
			}
		default:
			lines = append(lines, row[0]+": "+strings.Join(headed(head, row), "; "))
		}
	}
	return lines
}

// headed writes the cells of a row after the first, each after its heading.
func headed(head, row []string) []string {
	var cells []string
	for i, cell := range row[1:] {
		if cell == "" {
			continue
		}
		of := ""
		if i+1 < len(head) {
			of = head[i+1]
		}
		cells = append(cells, words.Join(" ", of, cell))
	}
	return cells
}
