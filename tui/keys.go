package tui

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"github.com/charmbracelet/bubbles/key"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/tui/intent"
)

// Place is a set of places where a key works.
type Place uint16

// The places.
const (
	OnBoard Place = 1 << iota
	OnVessel
	InLine
	InRefusal
	OnBench
	OnCompare
	OnGuide
	OnProblems
	InForm
	OnShelf
	InTasting
	OnHoney

	onScreen = OnBoard | OnVessel
	anywhere = onScreen | OnBench | OnCompare | OnGuide | OnProblems | OnShelf | OnHoney // where letters are keys
	wide     = InForm | OnShelf | OnHoney                                                // where closed ferments are needed
	nowhere  = Place(0)
)

// Key is one row of the table of keys, for matching, help, footer, README and settings.
type Key struct {
	Action  intent.Action
	Binding key.Binding // its keys, and the word in the footer
	Help    string      // one phrase
	Works   Place
	Footer  Place // where the footer shows it
	Moves   bool  // moves the cursor instead of doing something
}

// Keys is the table in use.
type Keys []Key

// DefaultKeys returns the default table, in the order of the footer.
func DefaultKeys() Keys {
	const board, vessel, both, bench, all, compare, guide, problems, form, shelf, taste, honey = OnBoard, OnVessel, onScreen, OnBench, anywhere, OnCompare, OnGuide, OnProblems, InForm, OnShelf, InTasting, OnHoney
	return Keys{
		does(intent.Reading, both|bench|honey, both|bench|honey, "reading", "take a reading", "g"),
		does(intent.Done, both|shelf|honey, both|shelf|honey, "done", "done; asks for values", "space"),
		does(intent.DoneAll, both, nowhere, "all", "done for all of a kind", "a"),
		does(intent.Skip, both, both, "skip", "skip, with a reason", "s"),
		does(intent.PutOff, both, nowhere, "put off", "put off to tomorrow", "p"),
		does(intent.Note, both|shelf|honey, vessel|shelf|honey, "note", "note", "n"),
		moves(intent.Open, both|bench|problems|shelf|taste|honey, board|bench|problems|shelf|taste|honey, "open", "open", "enter"),
		moves(intent.Side, board|bench|shelf|taste|honey|form, board|bench|taste|honey|form, "vessels", "the other list", "tab"),
		moves(intent.Empty, form, form, "empty", "empty the form", "ctrl+x"),
		does(intent.Undo, both|honey, board, "undo", "undo", "u"),
		does(intent.Edit, both|problems|shelf|honey, problems, "file", "edit its file", "e"),
		does(intent.New, both|honey, honey, "new vessel", "new jug, or a trial", "+"),
		does(intent.Bottle, both, vessel, "bottle", "bottle, or close", "b"),
		does(intent.Tasting, both|shelf, shelf, "taste", "taste", "t"),
		does(intent.Rack, both, vessel, "rack", "rack, top up, sweeten", "r"),
		moves(intent.Numbers, vessel, nowhere, "numbers", "the curve in numbers", "#"),
		moves(intent.Mark, both|honey, nowhere, "mark", "mark, then compare", "m"),
		moves(intent.Compare, both|shelf|honey, shelf, "compare", "mark, then compare", "v"),
		moves(intent.Yours, all, nowhere, "yours", "your results", "y"),
		moves(intent.Up, all|taste, nowhere, "up", "move", "up", "k"),
		moves(intent.Down, all|form|taste, vessel|bench|compare|guide|form|taste, "more", "move", "down", "j"),
		moves(intent.PageUp, all|taste, nowhere, "back a page", "by a page", "pgup"),
		moves(intent.PageDown, all|taste, nowhere, "on a page", "by a page", "pgdown"),
		moves(intent.Top, all|taste, nowhere, "first", "first, last", "home"),
		moves(intent.Bottom, all|taste, nowhere, "last", "first, last", "end"),
		moves(intent.Previous, bench|guide|taste|honey, nowhere, "another way", "the one before", "left"),
		moves(intent.Next, bench|guide|form|taste|honey, guide|form|taste|honey, "choose", "the next one", "right"),
		moves(intent.Board, all, shelf|honey, "board", "board", "1"),
		moves(intent.Shelf, all, nowhere, "shelf", "shelf: bottles", "2"),
		moves(intent.Honey, all, nowhere, "honey room", "honey, cultures", "3"),
		moves(intent.Past, all, nowhere, "closed", "closed ferments", "6"),
		moves(intent.Bench, all, nowhere, "bench", "bench: figures", "4"),
		moves(intent.Guide, all, nowhere, "guide", "guide", "5"),
		moves(intent.Problems, all, nowhere, "problems", "problems", "!"),
		moves(intent.Find, both|guide|shelf|honey, guide|shelf, "find", "find", "/"),
		moves(intent.Reload, both, nowhere, "again", "read files again", "."),
		moves(intent.Back, all|InLine|InRefusal|form|taste, vessel|bench|compare|guide|problems|form|taste, "back", "back", "esc"),
		moves(intent.Keep, InLine|InRefusal|form, form, "keep", "keep what is typed", "enter"),
		moves(intent.Guess, InLine, nowhere, "what was meant", "take what was perhaps meant", "tab"),
		moves(intent.Instead, InRefusal, nowhere, "the other one instead", "the other one instead", "down"),
		moves(intent.Help, all|taste, all|taste, "help", "this help", "?"),
		moves(intent.Help, form|taste, form, "help", "this help", "f1"),
		moves(intent.Leave, all|taste, nowhere, "leave", "leave", "q"),
		moves(intent.Abort, all|InLine|InRefusal|form|taste, nowhere, "leave", "leave", "ctrl+c"),
		moves(intent.Suspend, all|InLine|InRefusal|form|taste, nowhere, "suspend", "to the shell", "ctrl+z"),
	}
}

func does(a intent.Action, works, footer Place, word, help string, keys ...string) Key {
	b := key.NewBinding(key.WithKeys(keys...), key.WithHelp(keyName(keys[0]), word))
	return Key{Action: a, Binding: b, Help: help, Works: works, Footer: footer}
}

// moves is does for a key that moves the cursor.
func moves(a intent.Action, works, footer Place, word, help string, keys ...string) Key {
	k := does(a, works, footer, word, help, keys...)
	k.Moves = true
	return k
}

// Action returns the action of a key in a place.
func (ks Keys) Action(at Place, stroke intent.Stroke) (intent.Action, bool) {
	k, ok := ferment.FirstWhere(ks, func(k Key) bool { return k.Works&at != 0 && slices.Contains(k.Binding.Keys(), stroke.Name) })
	return k.Action, ok
}

// Of returns the row of an action.
func (ks Keys) Of(a intent.Action) (Key, bool) {
	return ferment.FirstWhere(ks, func(k Key) bool { return k.Action == a })
}

// At returns the rows that the footer shows in a place.
func (ks Keys) At(place Place) []Key {
	return ferment.Where(ks, func(k Key) bool { return k.Footer&place != 0 })
}

// Remap assigns the keys of the settings to actions, and to acts of the cellar. Invalid ones are returned as errors.
func (ks Keys) Remap(settings map[string]string) (Keys, []error) {
	out := slices.Clone(ks)
	var told []error
	for _, name := range slices.Sorted(maps.Keys(settings)) {
		to := strings.TrimSpace(settings[name])
		if len([]rune(to)) > 1 {
			to = strings.ToLower(to)
		}
		if err := out.give(name, to); err != nil {
			told = append(told, err)
		}
	}
	return out, told
}

// give gives an action another key, as the settings say.
func (ks *Keys) give(name, to string) error {
	if _, named := keyNames[to]; !named && len([]rune(to)) != 1 && (!strings.HasPrefix(to, "ctrl+") || len(to) != len("ctrl+")+1) {
		return fmt.Errorf("keys: %s: %q is no key: write one letter or sign, e.g. %s: d", name, to, name)
	}
	if slices.Contains([]string{"esc", "ctrl+c", "ctrl+z", "enter"}, to) { // so that nobody is locked in
		return fmt.Errorf("keys: %s: %s has its own meaning: write another, e.g. %s: d", name, keyName(to), name)
	}
	if stays[intent.Action(name)] {
		return fmt.Errorf("keys: %s: its key stays: choose another action, e.g. reading: %s", name, to)
	}
	if _, ok := ks.Of(intent.Action(name)); !ok {
		if !ferment.IsAct(name) {
			return fmt.Errorf("keys: %q is neither an action nor an act: e.g. reading: g or degas: d", name)
		}
		*ks = append(*ks, does(intent.Action(name), onScreen, nowhere, name, name+", done now", to))
	}
	for i, k := range *ks {
		switch {
		case k.Action == intent.Action(name):
			(*ks)[i] = k.on(to)
		case k.Works&onScreen != 0:
			(*ks)[i] = k.on(slices.DeleteFunc(slices.Clone(k.Binding.Keys()), func(n string) bool { return n == to })...)
		}
	}
	return nil
}

func (k Key) on(keys ...string) Key {
	first := ""
	if len(keys) > 0 {
		first = keyName(keys[0])
	}
	k.Binding = key.NewBinding(key.WithKeys(keys...), key.WithHelp(first, k.Binding.Help().Desc))
	return k
}

var stays = map[intent.Action]bool{intent.Back: true, intent.Keep: true, intent.Instead: true, intent.Abort: true, intent.Suspend: true, intent.Open: true}

var keyNames = map[string]string{
	"space": "Space", "enter": "Enter", "tab": "Tab", "esc": "Esc", "up": "↑", "down": "↓", "pgup": "PgUp",
	"pgdown": "PgDn", "left": "←", "right": "→", "home": "Home", "end": "End", "ctrl+c": "Ctrl+C", "ctrl+z": "Ctrl+Z",
	"ctrl+x": "Ctrl+X", "f1": "F1",
}

func keyName(name string) string {
	if shown, ok := keyNames[name]; ok {
		return shown
	}
	return name
}

// Help is one row of the help: keys, and what they do.
type Help struct{ Keys, Does string }

// Helps returns what the keys of a place do, movements last; two directions share a row.
func (ks Keys) Helps(place Place) []Help {
	var out []Help
	for _, moving := range []bool{false, true} {
		for _, k := range ks {
			name := k.Binding.Help().Key
			switch n := len(out); {
			case k.Works&place == 0 || k.Moves != moving || len(k.Binding.Keys()) == 0:
			case n > 0 && out[n-1].Does == k.Help:
				out[n-1].Keys += " " + name
			default:
				out = append(out, Help{name, k.Help})
			}
		}
	}
	return out
}

// Table returns the keys of the screens as a table for the README.
func (ks Keys) Table() string {
	var b strings.Builder
	b.WriteString("| key | does |\n|---|---|\n")
	for _, h := range ks.Helps(onScreen) {
		fmt.Fprintf(&b, "| %s | %s |\n", h.Keys, h.Does)
	}
	return b.String()
}
