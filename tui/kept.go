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

// keptMessage says what was written, what is due next, and how it is taken back.
func (m Model) keptMessage(kept app.Kept) message {
	parts := words.Receipts(m.snapshot, kept.Receipts)
	parts = append(parts, kept.Notices...)
	return message{word: words.Saved, text: strings.Join(parts, "; "), more: m.next(), right: m.keyName(intent.Undo) + " takes it back"}
}

// next names the first line of the day that can be done now.
func (m Model) next() string {
	for _, l := range m.words.Tasks {
		if l.Word == words.Late || l.Word == words.Due {
			return "; next: " + l.Tag + " " + l.Act
		}
	}
	return ""
}

// writtenTo returns the vessel that was written to, the first of several.
func (m Model) writtenTo(receipts []ferment.Receipt) (subject string, ok bool) {
	for _, r := range receipts {
		if v, is := m.snapshot.Find(r.Subject); is {
			return v.ID(), true
		}
	}
	return "", false
}

// tookBack returns the task that is open again after something was taken back, else the
// vessel it was of.
func (m Model) tookBack(receipts []ferment.Receipt) (to intent.Task, ok bool) {
	subject, ok := m.writtenTo(receipts)
	t, _ := m.again(receipts)
	return intent.Task{Subject: subject, Step: t.Step, Occurrence: t.Occurrence}, ok
}

// takenBackMessage says what was taken out again, and what it is now.
func (m Model) takenBackMessage(msg takenBack) message {
	text := "taken back: " + strings.Join(words.Receipts(m.snapshot, msg.receipts), "; ")
	if t, is := m.again(msg.receipts); is && len(msg.receipts) == 1 {
		text += "; it is " + string(t.State) + " again"
	}
	out := say("%s", text)
	if msg.more > 0 {
		out.right = m.keyName(intent.Undo) + " one more"
	}
	return out
}

// again returns the task that the last entry of the first receipt had settled.
func (m Model) again(receipts []ferment.Receipt) (schedule.Task, bool) {
	if len(receipts) == 0 || len(receipts[0].Entries) == 0 {
		return schedule.Task{}, false
	}
	entries := receipts[0].Entries
	e := entries[len(entries)-1]
	v, _ := m.snapshot.Find(receipts[0].Subject)
	isOver := []schedule.State{schedule.Done, schedule.Skipped, schedule.Lapsed}
	return taskWhere(v, func(t schedule.Task) bool { return settledBy(e, t) && !slices.Contains(isOver, t.State) })
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
