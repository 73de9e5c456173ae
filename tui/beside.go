package tui

import (
	"slices"
	"strings"

	"cellar/jugkeeper/tui/compare"
	"cellar/jugkeeper/tui/intent"
)

// mark takes the selected vessel among those to be laid side by side, or out
// of them again.
func (m Model) mark() Model {
	v, ok := m.vessel()
	if !ok {
		return m.noTask()
	}
	if slices.Contains(m.marked, v.ID()) {
		m.marked = slices.DeleteFunc(slices.Clone(m.marked), func(id string) bool { return id == v.ID() })
	} else {
		m.marked = append(slices.Clone(m.marked), v.ID())
	}
	m.message = say("marked: %s; %s lays two to four side by side", m.labels(m.marked), m.keyName(intent.Beside))
	return m
}

func (m Model) labels(ids []string) string {
	var labels []string
	for _, id := range ids {
		if v, ok := m.snapshot.Find(id); ok {
			labels = append(labels, v.Label())
		}
	}
	if len(labels) == 0 {
		return "none"
	}
	return strings.Join(labels, ", ")
}

// openBeside lays the marked vessels side by side; without two marked ones the
// trial of the selected vessel.
func (m Model) openBeside() Model {
	ids := m.marked
	if len(ids) < 2 {
		ids = m.trial()
	}
	if len(ids) < 2 || len(ids) > compare.Most {
		m.message = say("mark two to four with %s first; marked: %s", m.keyName(intent.Mark), m.labels(m.marked))
		return m
	}
	return m.openScreen(OnBeside, compare.New(ids))
}

// trial are the ferments of the trial that the selected vessel belongs to.
func (m Model) trial() []string {
	v, ok := m.vessel()
	if !ok || v.Ferment.Trial.Name == "" {
		return nil
	}
	var ids []string
	for _, other := range m.snapshot.Vessels {
		if other.Ferment.Trial.Name == v.Ferment.Trial.Name {
			ids = append(ids, other.ID())
		}
	}
	return ids
}
