package main

import (
	"bufio"
	"cmp"
	"errors"
	"fmt"
	"io"
	"path"
	"strings"

	"github.com/spf13/cobra"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/line"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
)

type logFlags struct {
	note, because string
	table         string
	yes           bool
}

func logCommand(w world, f *flags) *cobra.Command {
	var l logFlags
	cmd := &cobra.Command{
		Use:   "log NAME[,NAME…] [PART…]",
		Short: "Write down a reading or what was done",
		Example: "  jugkeeper log bh-a 1.046@23 ph3.4 --note 'bread, a little sulphur'\n" +
			"  jugkeeper log bh-a nutrient 1.5g -30min\n" +
			"  jugkeeper log bh-a,bh-b degas\n" +
			"  jugkeeper log bh-a                     asks, line by line\n" +
			"  jugkeeper log bh-a - < sheet.txt\n" +
			"  jugkeeper log bh-a --table readings.csv",
		Long: "Writes an entry into the log of one or several ferments. It has one or more parts, in any\n" +
			"order, with spaces between them:\n\n" +
			"  1.046, 1046        gravity; on other scales 11.4bx, 11.4p, 62oe, 8.6r\n" +
			"  @23, 19.5C         temperature of the sample, temperature of the vessel\n" +
			"  ph3.4, ta5.5       pH, acidity in g/L\n" +
			"  nutrient 1.5g      what you did, and how much you added\n" +
			"  key=value          any other key of an entry, e.g. airlock=dry; also vol3.4L, clear, hazy\n" +
			"  -30min, 18:30      when, if not now; also yesterday 20:00, 2026-09-14 07:15\n" +
			"  ?                  you doubt the reading\n" +
			"  ; smells of bread  a note: everything after the semicolon\n\n" +
			"Without a part it asks for entries; - reads them from standard input, one a line.\n\n" +
			"--table reads a table from a spreadsheet or a logger. Its first line names the columns, in\n" +
			"any order: at (or date and time), gravity, sample C, temperature, ph, did, note and so on, as\n" +
			"in export table. Columns are separated by commas, semicolons or tabs; a decimal comma is\n" +
			"understood. It shows what it found and asks before it writes.",
		Args:              args(cobra.MinimumNArgs(1)),
		ValidArgsFunction: w.completeEntry(f),
		RunE: func(_ *cobra.Command, given []string) error {
			s, ids, err := w.openFor(*f, given[0])
			if ps := problemsOf(s.first.Cellar, given[0]); err != nil && len(ps) > 0 && l.table == "" && (len(given) > 1 || l.note != "") {
				return s.keepUnread(w, ps[0], given[1:], l)
			}
			if err != nil {
				return err
			}
			if l.table != "" {
				return s.keepTable(w, ids, l.table, l.yes)
			}
			if len(given) == 1 && l.note == "" {
				if f.json || !answers(w.stdin) {
					return usage("log %s needs an entry, e.g. jugkeeper log %s 1.046@23 (or - to read them from standard input)", given[0], given[0])
				}
				return s.byLine(w, ids, l)
			}
			entries, err := s.entries(w, given[1:], l)
			if err != nil {
				return err
			}
			if err := s.likely(w, bufio.NewReader(w.stdin), ids, l.yes, func(app.Vessel) []ferment.Entry { return entries }); err != nil {
				return err
			}
			kept, err := s.app.Log(s.now, ids, entries...)
			return s.tell(w, kept, err)
		},
	}
	l.on(cmd, "do it although the program says stop, for the reason `TEXT`")
	cmd.Flags().StringVar(&l.table, "table", "", "read the entries from `FILE`, a table whose first line names the columns (CSV)")
	return cmd
}

// keepUnread writes entries for a ferment with an unreadable file: into the file if their place is clear, else next to
// it.
func (s session) keepUnread(w world, why ferment.Problem, parts []string, l logFlags) error {
	entries, err := s.entries(w, parts, l)
	if err != nil {
		return err
	}
	for i := range entries {
		entries[i].At = cmp.Or(entries[i].At, ferment.At(s.now))
	}
	id := strings.TrimSuffix(path.Base(why.File), ".yaml")
	r, err := s.store.Append(id, entries)
	if err != nil {
		return &failure{status: saidNo, err: err}
	}
	s.first.Vessels = append(s.first.Vessels, app.Unplanned(ferment.Ferment{ID: id})) // for the message
	return s.tell(w, app.Kept{Receipts: []ferment.Receipt{r}, Notices: []string{why.String()}}, nil)
}

func (l *logFlags) on(cmd *cobra.Command, because string) {
	cmd.Flags().StringVar(&l.note, "note", "", "add the note `TEXT` to the entry")
	cmd.Flags().StringVar(&l.because, "because", "", because)
	cmd.Flags().BoolVar(&l.yes, "yes", false, "keep an unlikely entry without asking")
}

func (l logFlags) typed(line string) app.Typed {
	return app.Typed{Line: line, Note: l.note, Because: l.because}
}

// entries reads one entry from the arguments of log, or one a line from standard input.
func (s session) entries(w world, parts []string, l logFlags) ([]ferment.Entry, error) {
	if len(parts) == 1 && parts[0] == "-" {
		return s.sheet(w, l)
	}
	e, err := s.line(w, line.Join(parts), l)
	return []ferment.Entry{e}, err
}

// sheet reads a paper sheet typed later: one entry a line, besides blank lines and comments. If one is invalid nothing
// is written.
func (s session) sheet(w world, l logFlags) ([]ferment.Entry, error) {
	var out []ferment.Entry
	lines := bufio.NewScanner(w.stdin)
	lines.Buffer(nil, 1<<20) // as long as a file may be
	for n := 1; lines.Scan(); n++ {
		text := strings.TrimSpace(lines.Text())
		if text == "" || strings.HasPrefix(text, "#") {
			continue
		}
		e, err := s.line(w, text, l)
		if err != nil {
			return nil, fmt.Errorf("line %d: %w", n, err)
		}
		out = append(out, e)
	}
	if err := lines.Err(); err != nil {
		return nil, err
	}
	if len(out) == 0 {
		return nil, usage("standard input has no entry: write one a line, e.g. 2026-09-14 07:15 1.066@22")
	}
	return out, nil
}

// line reads the words of a command as an entry.
func (s session) line(w world, text string, l logFlags) (ferment.Entry, error) {
	line, err := l.typed(text).Read(s.first.Cellar.Settings, s.now)
	s.notice(w, line.Notices...)
	return line.Entry, err
}

// likely asks about unlikely values. Without an answer nothing is written.
func (s session) likely(w world, from *bufio.Reader, ids []string, yes bool, entries func(app.Vessel) []ferment.Entry) error {
	if yes {
		return nil
	}
	for _, id := range ids {
		v, _ := s.first.Find(id)
		for _, e := range entries(v) {
			asks := app.Unlikely(s.first, v, e)
			if len(asks) == 0 {
				continue
			}
			question := v.Label() + ": " + strings.Join(ferment.Map(asks, app.Ask.Typed), "; ")
			if err := s.keepAllTheSame(w, from, question); err != nil {
				return err
			}
		}
	}
	return nil
}

// keepAllTheSame returns nil if a person at a terminal wants to keep unlikely values.
func (s session) keepAllTheSame(w world, from *bufio.Reader, question string) error {
	if s.flags.json || !w.ask(from, question+"\nkeep it anyway? [y/N] ") {
		return saysNo("%s\nnothing is written; --yes keeps it", question)
	}
	return nil
}

// ask asks a question that y agrees to; without a person to answer it returns false.
func (w world) ask(from *bufio.Reader, question string) bool {
	if !answers(w.stdin) {
		return false
	}
	fmt.Fprint(w.stderr, question)
	answer, _ := from.ReadString('\n')
	return strings.EqualFold(strings.TrimSpace(answer), "y")
}

func (s session) notice(w world, texts ...string) {
	if s.flags.json {
		*s.notices = append(*s.notices, texts...)
		return
	}
	for _, text := range texts {
		fmt.Fprintln(w.stderr, text)
	}
}

// tell writes what was kept, as words or as JSON.
func (s session) tell(w world, kept app.Kept, err error) error {
	for _, r := range kept.Receipts {
		v, _ := s.first.Find(r.Subject)
		for _, e := range r.Entries {
			if p := app.Meaning(s.first, v, e); p.Reading != nil && p.Reading.Doubt != "" {
				kept.Notices = append(kept.Notices, fmt.Sprintf("%s: in doubt, %s; it does not count until a second reading agrees", v.Label(), p.Reading.Doubt))
			}
		}
	}
	if s.flags.json {
		if err != nil && len(kept.Receipts) == 0 {
			return err
		}
		return errors.Join(err, writeJSON(w.stdout, s.keptOf(kept)))
	}
	for _, r := range kept.Receipts {
		v, _ := s.first.Find(r.Subject)
		fmt.Fprintf(w.out(s.flags), "kept: %s\n", words.Written(v, r, s.now))
	}
	s.notice(w, kept.Notices...)
	return err
}

func (s session) keptOf(kept app.Kept) keptJSON {
	out := keptJSON{Kept: []receiptJSON{}, Notices: append(*s.notices, kept.Notices...)}
	for _, r := range kept.Receipts {
		v, _ := s.first.Find(r.Subject)
		one := receiptJSON{r.Subject, words.Written(v, r, s.now), []entryJSON{}, r.Stood}
		for i := range r.Entries {
			one.Entries = append(one.Entries, entryOf(&r.Entries[i]))
		}
		out.Kept = append(out.Kept, one)
	}
	return out
}

func doneCommand(w world, f *flags) *cobra.Command {
	var l logFlags
	cmd := &cobra.Command{
		Use:   "done NAME[,NAME…] STEP [PART…]",
		Short: "Mark a step of the plan as done",
		Example: "  jugkeeper done bh-a nutrient            with the planned amount\n" +
			"  jugkeeper done bh-a nutrient-2 1.5g -30min\n" +
			"  jugkeeper done bh-a rack vol3.1L lost=0.2L clear\n" +
			"  jugkeeper done bh-a gravity 1.046@23\n" +
			"  jugkeeper done bh-a,bh-b degas",
		Long: "Marks a step of the plan as done. Amounts, readings and times may follow it, in any order,\n" +
			"typed as for log; without an amount the planned one is written.",
		Args:              args(cobra.MinimumNArgs(2)),
		ValidArgsFunction: w.completeTask(f),
		RunE: func(_ *cobra.Command, given []string) error {
			s, ids, err := w.openFor(*f, given[0])
			if err != nil {
				return err
			}
			wish := app.Wish{Step: given[1], Typed: l.typed(line.Join(given[2:]))}
			settling := func(v app.Vessel) []ferment.Entry {
				entries, _, _ := app.Settling(v, wish, s.now) // Done reports refusals
				return entries
			}
			if err := s.likely(w, bufio.NewReader(w.stdin), ids, l.yes, settling); err != nil {
				return err
			}
			kept, err := s.app.Done(s.now, ids, wish)
			return s.tell(w, kept, err)
		},
	}
	l.on(cmd, "do it although the program says stop, for the reason `TEXT`")
	return cmd
}

func skipCommand(w world, f *flags) *cobra.Command {
	var note, because string
	cmd := &cobra.Command{
		Use:               "skip NAME[,NAME…] STEP --because TEXT",
		Short:             "Skip a step of the plan and say why",
		Example:           "  jugkeeper skip bh-a degas --because 'away for the day'",
		Args:              args(cobra.ExactArgs(2)),
		ValidArgsFunction: w.completeTask(f),
		RunE: func(_ *cobra.Command, given []string) error {
			if strings.TrimSpace(because) == "" {
				return usage("skip needs a reason, e.g. --because 'away for the day'")
			}
			s, ids, err := w.openFor(*f, given[0])
			if err != nil {
				return err
			}
			kept, err := s.app.Skip(s.now, ids, app.Wish{Step: given[1], Typed: app.Typed{Because: because, Note: note}})
			return s.tell(w, kept, err)
		},
	}
	cmd.Flags().StringVar(&because, "because", "", "the reason `TEXT` for skipping it")
	cmd.Flags().StringVar(&note, "note", "", "add the note `TEXT` to the entry")
	return cmd
}

// byLine asks a person at a terminal for entries until an empty line or the end. Each is written at once; errors are
// shown.
func (s session) byLine(w world, ids []string, l logFlags) error {
	lines, labels := bufio.NewReader(w.stdin), ferment.Map(s.first.Among(ids), app.Vessel.Label)
	s.notice(w, "one entry a line, e.g. 1.046@23, degas or nutrient 1.5g; an empty line ends")
	for {
		fmt.Fprintf(w.stderr, "%s> ", strings.Join(labels, ", "))
		text, err := lines.ReadString('\n')
		if text = strings.TrimSpace(text); text == "" && (err == nil || errors.Is(err, io.EOF)) {
			return nil
		}
		if err != nil && !errors.Is(err, io.EOF) {
			return err
		}
		if s.flags.at == "" {
			s.now = w.clock()
		}
		if s.first, err = s.app.Open(s.now); err != nil {
			return err
		}
		e, err := s.line(w, text, l)
		if err != nil {
			s.notice(w, err.Error())
			continue
		}
		for _, id := range ids {
			v, _ := s.first.Find(id)
			s.notice(w, meaning(s.first, v, e)...)
		}
		if s.likely(w, lines, ids, l.yes, func(app.Vessel) []ferment.Entry { return []ferment.Entry{e} }) != nil {
			s.notice(w, "nothing is written")
			continue
		}
		kept, err := s.app.Log(s.now, ids, e)
		if err := s.tell(w, kept, err); err != nil {
			return err
		}
	}
}

func meaning(s app.Snapshot, v app.Vessel, e ferment.Entry) []string {
	p := app.Meaning(s, v, e)
	var lines []string
	if p.Reading != nil {
		says := "  " + v.Label() + " gravity " + words.Exact(p.Reading.Gravity, s.Cellar.Settings)
		if p.PerDay > 0 {
			says += ", falling " + measure.Decimal(p.PerDay, 1) + " points a day"
		}
		if p.Alcohol.IsKnown() {
			says += ", " + measure.Decimal(float64(p.Alcohol.Value), 1) + " % vol"
		}
		lines = append(lines, says)
	}
	for _, effect := range p.Effects {
		l := words.LineOf(effect.Task, v, s.At)
		lines = append(lines, "  "+words.Join(" ", v.Label(), l.Act, "becomes", string(l.Word), l.Until))
	}
	return lines
}
