// Package widget holds the drawn parts that screens are made of.
package widget

import (
	"strings"

	"cellar/jugkeeper/tui/layout"
	"cellar/jugkeeper/tui/theme"
)

// Key is a key and what it does, for the last row of a screen.
type Key struct{ Key, Does string }

// KeyRow names the keys in one row of at most w columns. Where there is no
// room the gaps narrow, then keys give way from the middle: the first ones
// longest, help and the way back never.
func KeyRow(t theme.Theme, keys []Key, w int) string {
	gap := "   "
	if keysWidth(keys, gap) > w {
		gap = "  "
	}
	for len(keys) > 1 && keysWidth(keys, gap) > w {
		i := firstToGo(keys)
		keys = append(append([]Key{}, keys[:i]...), keys[i+1:]...)
	}
	parts := make([]string, len(keys))
	for i, k := range keys {
		parts[i] = t.Bold(k.Key) + " " + t.Faint(k.Does)
	}
	return layout.Cut(strings.Join(parts, gap), w)
}

// firstToGo is the key that can be missed most: the last one that is neither at
// the end, where help stands, nor a way back.
func firstToGo(keys []Key) int {
	for i := len(keys) - 2; i > 0; i-- {
		if k := keys[i].Key; k != "Esc" && k != "q" {
			return i
		}
	}
	return 0
}

func keysWidth(keys []Key, gap string) int {
	n := 0
	for i, k := range keys {
		if i > 0 {
			n += len(gap)
		}
		n += layout.Width(k.Key) + 1 + layout.Width(k.Does)
	}
	return n
}

// Ends is a row of w columns with one text at its left and one at its right.
// The left one is cut where both have no room.
func Ends(left, right string, w int) string {
	room := w - layout.Width(right)
	if right == "" || room < 2 {
		return layout.Cut(left, w)
	}
	return layout.Pad(left, room-2) + "  " + right
}
