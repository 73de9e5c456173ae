package main

import (
	"bufio"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/line"
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
		Long: "Writes an entry into the log of one ferment or of several: its parts in any order,\n" +
			"with spaces between. A number like 1.046 or 1046 is a gravity; 11.4bx, 11.4p, 62oe and\n" +
			"8.6r are read on other scales; @23 is the temperature of the sample, 19.5C that of the\n" +
			"vessel; ph3.4, ta5.5, vol3.4L, clear, hazy; an act, with its amount: nutrient 1.5g; any\n" +
			"other key of an entry as key=value; ? where it is in doubt. A time is -30min, -2h, 18:30,\n" +
			"yesterday 20:00, 2026-09-14 07:15, and now if there is none. What follows ; is the note.\n" +
			"A lone - reads entries from standard input, one a line. Without a part it asks for them.\n\n" +
			"--table reads a spreadsheet's or a logger's table: columns by name in any order (at, or date\n" +
			"and time; gravity, sample C, temperature, ph, did, note, … as in export table), parted by\n" +
			"commas, semicolons or tabs, with decimal commas too. It shows what it found and asks.",
		Args:              args(cobra.MinimumNArgs(1)),
		ValidArgsFunction: w.completeEntry(f),
		RunE: func(_ *cobra.Command, given []string) error {
			s, ids, err := w.openFor(*f, given[0])
			if err != nil {
				return err
			}
			if l.table != "" {
				return s.keepTable(w, ids, l.table, l.yes)
			}
			if len(given) == 1 && l.note == "" {
				if !answers(w.stdin) {
					return usage("log %s wants an entry, e.g. jugkeeper log %s 1.046@23 (or - to read them from standard input)", given[0], given[0])
				}
				return s.byLine(w, *f, ids, l)
			}
			entries, err := s.entries(w, given[1:], l)
			if err != nil {
				return err
			}
			if err := s.likely(w, bufio.NewReader(w.stdin), ids, entries, l.yes); err != nil {
				return err
			}
			kept, err := s.app.Log(s.now, ids, entries...)
			tell(w, s, kept)
			return err
		},
	}
	l.on(cmd, "the reason `TEXT` for which a gate or a stop was passed")
	cmd.Flags().StringVar(&l.table, "table", "", "read entries from `FILE`, a table with a heading (CSV)")
	return cmd
}

// on gives a command the flags of an entry.
func (l *logFlags) on(cmd *cobra.Command, because string) {
	cmd.Flags().StringVar(&l.note, "note", "", "a note with the entry, `TEXT`")
	cmd.Flags().StringVar(&l.because, "because", "", because)
	cmd.Flags().BoolVar(&l.yes, "yes", false, "keep an unlikely entry without asking")
}

// typed is a line with what the flags say besides.
func (l logFlags) typed(line string) app.Typed {
	return app.Typed{Line: line, Note: l.note, Because: l.because}
}

// entries reads the entries of a log command: one from its arguments, or one
// a line from standard input.
func (s session) entries(w world, parts []string, l logFlags) ([]ferment.Entry, error) {
	if len(parts) == 1 && parts[0] == "-" {
		return s.sheet(w, l)
	}
	e, err := s.line(w, line.Join(parts), l)
	return []ferment.Entry{e}, err
}

// sheet reads a paper sheet that is typed in later: one entry a line, blank
// lines and lines of a comment apart. One that cannot be read keeps the whole
// from being written.
func (s session) sheet(w world, l logFlags) ([]ferment.Entry, error) {
	var out []ferment.Entry
	lines := bufio.NewScanner(w.stdin)
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
		return nil, usage("standard input holds no entry: write one a line, e.g. 2026-09-14 07:15 1.066@22")
	}
	return out, nil
}

func (s session) line(w world, text string, l logFlags) (ferment.Entry, error) {
	line, err := l.typed(text).Read(s.first.Cellar.Settings, s.now)
	for _, notice := range line.Notices {
		fmt.Fprintln(w.stderr, notice)
	}
	return line.Entry, err
}

// likely asks about an entry that is not as expected. Without an answer it is
// not written.
func (s session) likely(w world, from *bufio.Reader, ids []string, entries []ferment.Entry, yes bool) error {
	if yes {
		return nil
	}
	for _, id := range ids {
		v, _ := s.first.Find(id)
		for _, e := range entries {
			asks := app.Unlikely(s.first, v, e)
			if len(asks) == 0 {
				continue
			}
			question := fmt.Sprintf("%s: %s%s", v.Label(), s.change(v, e), strings.Join(app.Says(asks), "; "))
			if !w.ask(from, question+"\nkeep it all the same? [y/N] ") {
				return &failure{saidNo, fmt.Errorf("%s\nnothing is written; --yes keeps it", question)}
			}
		}
	}
	return nil
}

// change is how far an entry's gravity stands from the one before it.
func (s session) change(v app.Vessel, e ferment.Entry) string {
	m := app.Meaning(s.first, v, e)
	if m.Since == nil {
		return ""
	}
	points, since := words.Change(m, s.now)
	return points + " " + since + ": "
}

// ask puts a question to the person, if there is one at a terminal.
func (w world) ask(from *bufio.Reader, question string) bool {
	if !answers(w.stdin) {
		return false
	}
	fmt.Fprint(w.stderr, question)
	answer, _ := from.ReadString('\n')
	return strings.EqualFold(strings.TrimSpace(answer), "y")
}

// tell says what was kept.
func tell(w world, s session, kept app.Kept) {
	for _, r := range kept.Receipts {
		v, _ := s.first.Find(r.Subject)
		fmt.Fprintf(w.out(s.flags), "kept: %s\n", words.Written(v, r, s.now))
	}
	for _, n := range kept.Notices {
		fmt.Fprintln(w.stderr, n)
	}
}
