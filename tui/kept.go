package tui

import (
	"slices"
	"strings"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/schedule/app"
	"cellar/jugkeeper/schedule/words"
	"cellar/jugkeeper/tui/intent"
)

// keptMessage says what was written, and how it is taken back.
func (m Model) keptMessage(kept app.Kept) message {
	parts := words.Receipts(m.snapshot, kept.Receipts)
	parts = append(parts, kept.Notices...)
	return message{word: words.Saved, text: strings.Join(parts, "; "), right: m.keyName(intent.Undo) + " takes it back"}
}

// takenBackMessage says what was taken out again, and what it is now.
func (m Model) takenBackMessage(msg takenBack) message {
	text := "taken back: " + strings.Join(words.Receipts(m.snapshot, msg.receipts), "; ")
	if word := m.againWord(msg.receipts); word != "" {
		text += "; it is " + word + " again"
	}
	out := say("%s", text)
	if msg.more > 0 {
		out.right = m.keyName(intent.Undo) + " one more"
	}
	return out
}

// againWord is what the last task of the receipts has become.
func (m Model) againWord(receipts []ferment.Receipt) string {
	if len(receipts) != 1 || len(receipts[0].Entries) == 0 {
		return ""
	}
	entries := receipts[0].Entries
	e := entries[len(entries)-1]
	v, _ := m.snapshot.Find(receipts[0].Subject)
	i := slices.IndexFunc(v.Day.Tasks, func(t schedule.Task) bool { return settledBy(e, t) && !over(t.State) })
	if i < 0 {
		return ""
	}
	return string(v.Day.Tasks[i].State)
}

// settledBy tells whether an entry is one that could settle a task.
func settledBy(e ferment.Entry, t schedule.Task) bool {
	switch {
	case e.Skipped != "":
		return e.Skipped == t.Step || e.Skipped == t.Do
	case e.Step != "":
		return e.Step == t.Step
	}
	return e.Did != "" && string(e.Did) == t.Do || e.Measured(t.Do)
}

func over(s schedule.State) bool {
	return s == schedule.Done || s == schedule.Skipped || s == schedule.Lapsed
}
