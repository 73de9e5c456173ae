package tui

import (
	"cmp"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/measure"
	"cellar/jugkeeper/schedule/guide"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/entry"
	"cellar/jugkeeper/tui/intent"
	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/screen"
	"cellar/jugkeeper/tui/widget"
)

func (m Model) View() string {
	switch {
	case m.width <= 0 || m.height <= 0:
		return ""
	case m.snapshot.At.IsZero() && m.busy: // nothing was read yet
		return widget.Fill([]string{"", " Reading the cellar …"}, "", m.width, m.height)
	case m.help && layout.Fits(m.width, m.height):
		return m.helpView()
	}
	return m.screenView()
}

// screenView returns the screen, with an open line or a long message over its footer.
func (m Model) screenView() string {
	s, f, below := m.current(), m.frame(), m.below()
	f.Footer = m.footer()
	if len(below) == 0 {
		return s.View(f)
	}
	if _, has := s.(screen.DrawsBelow); !has {
		height := m.height - len(below) - 2
		if layout.Fits(m.width, height+1) {
			f.Height = height + 1 // its footer is not shown
			rows := append(strings.Split(s.View(f), "\n")[:height], "")
			return widget.Fill(append(rows, below...), strings.Repeat(" ", f.Page().Margin)+m.footer(), m.width, m.height)
		}
		s = m.screens[OnBoard]
	}
	f.Below = below
	return s.View(f)
}

// below returns the rows of the open line, or of a message too long for the footer.
func (m Model) below() []string {
	switch {
	case m.line != nil && m.lacks != "":
		return slices.Insert(m.line.Rows(m.look()), 2, m.look().Said(words.No, m.lacks)...)
	case m.line != nil:
		return m.line.Rows(m.look())
	case m.message.long(m):
		return m.look().Said(m.message.word, words.Join("; ", m.message.text, m.message.right))
	}
	return nil
}

func (m Model) look() entry.Look {
	return entry.Look{Theme: m.theme, Width: m.width, Height: m.height,
		Keep: m.keyName(intent.Keep), Back: m.keyName(intent.Back), Instead: m.keyName(intent.Instead), Guess: m.keyName(intent.Guess)}
}

func (m Model) keyName(a intent.Action) string {
	k, _ := m.keys.Of(a)
	return k.Binding.Help().Key
}

func (m Model) footer() string {
	w := layout.PageOf(m.width).Width
	switch {
	case m.message != message{} && !(m.line == nil && m.message.long(m)):
		return m.message.row(m, w)
	case m.line != nil:
		return m.line.Footer(m.look())
	}
	return widget.KeyRow(m.theme, m.footerKeys(), w)
}

// long reports whether a message needs more than the footer.
func (msg message) long(m Model) bool {
	return msg.word != words.Saved && layout.Width(words.Join("  ", msg.said(m), msg.right)) > layout.PageOf(m.width).Width
}

func (msg message) said(m Model) string {
	if msg.word == "" {
		return msg.text
	}
	return widget.Word(m.theme, msg.word) + ": " + msg.text
}

func (msg message) row(m Model, w int) string {
	text := msg.said(m)
	if more := text + msg.more; layout.Width(more)+layout.Width(msg.right)+2 <= w {
		text = more
	}
	return widget.Ends(layout.CutWords(text, w-layout.Width(msg.right)-2), msg.right, w)
}

func (m Model) footerKeys() []widget.Key {
	rows := m.keys.At(m.place())
	if s, is := m.current().(screen.NamesKeys); is {
		if actions := s.Names(m.frame()); actions != nil {
			rows = nil
			for _, a := range actions {
				k, _ := m.keys.Of(a)
				rows = append(rows, k)
			}
		}
	}
	var keys []widget.Key
	for _, k := range rows {
		help := k.Binding.Help()
		if s, is := m.current().(screen.Scrolls); is && k.Action == intent.Down && s.AtEnd(m.frame()) {
			continue
		}
		if word := cmp.Or(m.wordOf(k.Action), help.Desc); word != screen.Unnamed && help.Key != "" {
			keys = append(keys, widget.Key{Key: help.Key, Does: word})
		}
	}
	return keys
}

// wordOf is the screen's word for a key, with the name of where it goes back to.
func (m Model) wordOf(a intent.Action) string {
	word := m.current().Word(a)
	if word != screen.WhereFrom {
		return word
	}
	to := m.back().at
	if s, is := m.screens[to].(screen.Named); is {
		return s.Name()
	}
	return placeNames[to]
}

func (m Model) openHelp() (Model, tea.Cmd) {
	m.help, m.helpTop = true, 0
	return m, nil
}

// inHelp scrolls or closes the help; any other key closes it and does what it does.
func (m Model) inHelp(a intent.Action) (Model, bool) {
	step, scrolls := widget.Steps(a, m.helpRoom())
	last := max(len(m.helpRows())-m.helpRoom(), 0)
	m.help, m.helpTop = scrolls, max(min(m.helpTop+step, last), 0)
	return m, scrolls || slices.Contains([]intent.Action{intent.Back, intent.Help, intent.Leave}, a)
}

// The help covers the screen from here on; the board's tags and states stay visible.
func (m Model) helpColumn() int {
	switch {
	case m.at != OnBoard:
		return layout.PageOf(m.width).Margin
	case m.width < layout.Narrow:
		return 18
	}
	return 22
}

const helpHead = 2

func (m Model) helpRoom() int { return max(m.height-helpHead, 1) }

func (m Model) helpView() string {
	page := layout.PageOf(m.width)
	under := strings.Split(m.screenView(), "\n")
	rows := m.helpRows()
	rows = rows[min(m.helpTop, len(rows)):]
	out := make([]string, m.height)
	out[0] = layout.Row{}.At(page.Margin, m.theme.Bold(placeNames[m.at])).At(22, m.theme.Bold("keys and words")).
		Until(page.End(), widget.KeyRow(m.theme, []widget.Key{{Key: m.keyName(intent.Back), Does: "back"}}, page.Width)).In(m.width)
	for i := 1; i < m.height; i++ {
		left := ""
		if i < len(under)-1 && m.at == OnBoard {
			left = wholeWords(ansi.Strip(under[i]), min(m.helpColumn()-1, page.Margin+page.Width/6))
		}
		r := layout.Row{}.At(0, m.theme.Faint(left))
		if i >= helpHead && i-helpHead < len(rows) {
			r = r.At(m.helpColumn(), rows[i-helpHead])
		}
		out[i] = r.In(page.End())
	}
	if more := len(rows) - m.helpRoom(); more > 0 {
		out[m.height-1] = layout.Row{}.At(m.helpColumn(), m.theme.Faint("↓ more")).In(page.End())
	}
	return strings.Join(out, "\n")
}

// wholeWords returns what of a row ends before a column, without a word that goes on there.
func wholeWords(row string, column int) string {
	left := ansi.Cut(row, 0, column)
	if rest := strings.TrimPrefix(row, left); rest != "" && rest[0] != ' ' {
		left = left[:strings.LastIndexByte(left, ' ')+1]
	}
	return strings.TrimRight(left, " ")
}

var placeNames = map[Place]string{OnBoard: "board", OnVessel: "vessel", OnBench: "bench", OnCompare: "side by side", OnGuide: "guide", OnProblems: "problems", InForm: "form", OnShelf: "shelf", OnHoney: "honey room", InTasting: "taste"}

func (m Model) helpRows() []string {
	marks := ferment.Map(guide.Marks, func(w guide.Mark) helped { return helped{widget.Explained(m.theme, w.Word), w.Means} })
	terms := ferment.Map(guide.Terms, func(t guide.Term) helped { return helped{m.theme.Bold(t.Term), t.Means} })
	return append(append(m.inColumns(m.helpKeys()), ""), m.inColumns(append(marks, terms...))...)
}

type helped struct{ head, means string }

// helpKeys returns the keys that work here, with the words of the screen.
func (m Model) helpKeys() []helped {
	keys := slices.Clone(m.keys)
	for i, k := range keys {
		switch word := m.wordOf(k.Action); {
		case word == screen.Unnamed:
			keys[i].Works = nowhere
		case word != "" && m.at != OnBoard && k.Action != intent.Down:
			keys[i].Help = word
		}
	}
	return ferment.Map(keys.Helps(m.place()), func(h Help) helped { return helped{m.theme.Bold(h.Keys), h.Does} })
}

// inColumns writes a list in as many columns as fit without wrapping; in one if two do not.
func (m Model) inColumns(list []helped) []string {
	const most, gap = 4, 2
	width := layout.PageOf(m.width).End() - m.helpColumn()
	for n := min(most, len(list)); n > 1; n-- {
		lists := slices.Collect(slices.Chunk(list, (len(list)+n-1)/n))
		spare := width - gap*(len(lists)-1)
		for _, l := range lists {
			_, all := widthsOf(l)
			spare -= all
		}
		if spare < 0 {
			continue
		}
		rows := make([]layout.Row, len(lists[0]))
		at := 0
		for _, l := range lists {
			_, all := widthsOf(l)
			for i, text := range wrappedList(l, all) {
				rows[i] = rows[i].At(at, text)
			}
			at += all + gap + min(spare/(len(lists)-1), gap)
		}
		return ferment.Map(rows, func(r layout.Row) string { return r.In(width) })
	}
	return wrappedList(list, width)
}

// widthsOf returns how many columns the heads of a list take, and all of it without wrapping.
func widthsOf(list []helped) (heads, all int) {
	for _, h := range list {
		heads, all = max(heads, layout.Width(h.head)+1), max(all, layout.Width(h.means))
	}
	return heads, heads + all
}

// wrappedList returns the rows of a list, what each head means wrapped beside it.
func wrappedList(list []helped, width int) []string {
	column, _ := widthsOf(list)
	return ferment.Flat(list, func(h helped) []string {
		return layout.Row{}.At(0, h.head).Wrapped(column, width, h.means, layout.Unstyled)
	})
}

// keyChapter returns the chapter of the guide about the keys in use.
func (m Model) keyChapter() guide.Chapter {
	c := guide.Chapter{Name: "keys", Title: "what the keys do; they can be changed under keys in cellar.yaml"}
	c.Parts = append(c.Parts, ferment.Map(m.keys.Helps(anywhere), func(h Help) guide.Part { return guide.Part{Head: h.Keys, Text: h.Does} })...)
	const entries = "an entry is one line: what was read or done, in any order, e.g. 1046@23 ph3.4 degas; lively"
	c.Parts = append(c.Parts, guide.Part{Head: "the line", Text: entries})
	for _, g := range strings.Split(grammarIn(m.snapshot.Cellar.Settings.Units), "\n") {
		head, does, _ := strings.Cut(g, "\t")
		c.Parts = append(c.Parts, guide.Part{Head: head, Text: does})
	}
	return c
}

func grammarIn(units measure.System) string {
	if units != measure.US {
		return grammar
	}
	return strings.NewReplacer("@23", "@73", "19.5C 17..24C", "67F 63..75F", "vol3.4L", "vol3.6qt", "14mL", "0.5 fl oz", "lost=0.2L", "lost=8 fl oz").Replace(grammar)
}

const grammar = "1046\tgravity; 1.046 is the same\n" +
	"@23\ttemperature of the sample\n" +
	"11.4bx 62oe 8.6r\tBrix, Oechsle, a refractometer\n" +
	"19.5C 17..24C\ttemperature of the vessel, or the day's lowest and highest\n" +
	"ph3.4 vol3.4L clear\tthe vessel's other readings\n" +
	"degas\tan act; nutrient 1.5g one with its amount, nutrient 14mL stock=10% as a solution\n" +
	"lost=0.2L seen=film\tany key of an entry\n" +
	"-2h yesterday 20:00\twhen, where it is not now\n" +
	"remind=2027-02-10\tthe note comes up on that day\n" +
	"?\tin doubt: kept, and nothing follows from it\n" +
	";\tthe note begins"
