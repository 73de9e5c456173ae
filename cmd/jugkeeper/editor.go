package main

import (
	"cmp"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
)

// editor opens a file of the cellar at a line in the person's editor, else in a usual one; nil if there is none.
func (w world) editor(dir string) func(file string, line int) *exec.Cmd {
	words := quoted(cmp.Or(strings.TrimSpace(w.env("VISUAL")), strings.TrimSpace(w.env("EDITOR"))))
	if len(words) == 0 {
		words = usualEditor(exec.LookPath)
	}
	if len(words) == 0 {
		return nil
	}
	return func(file string, line int) *exec.Cmd {
		command := atLine(words, filepath.Join(dir, filepath.FromSlash(file)), line)
		return exec.Command(command[0], command[1:]...)
	}
}

// usualEditor returns the first usual editor that is installed.
func usualEditor(look func(string) (string, error)) []string {
	for _, name := range []string{"sensible-editor", "nano", "vi"} {
		if _, err := look(name); err == nil {
			return []string{name}
		}
	}
	return nil
}

// atLine returns the command to open a file at a line, for known editors; others get only the file. An editor with its
// own window is told to wait.
func atLine(words []string, file string, line int) []string {
	given := words[:len(words):len(words)]
	name := strings.TrimSuffix(filepath.Base(words[0]), ".exe")
	n := strconv.Itoa(line)
	wait, place := "", []string{file}
	switch name {
	case "vi", "vim", "nvim", "nano", "emacs", "emacsclient", "micro", "kak", "joe", "jed", "mg", "ne", "sensible-editor":
		place = []string{"+" + n, file}
	case "gedit":
		wait, place = "--wait", []string{"+" + n, file}
	case "hx", "helix":
		place = []string{file + ":" + n}
	case "subl":
		wait, place = "-w", []string{file + ":" + n}
	case "code", "code-insiders", "codium":
		wait, place = "--wait", []string{"--goto", file + ":" + n}
	}
	if wait != "" && !slices.Contains(words, wait) {
		given = append(given, wait)
	}
	if line <= 0 {
		place = []string{file}
	}
	return append(given, place...)
}

// quoted splits a command into words like a shell without expansion: at spaces outside quotes; a backslash escapes,
// except in single quotes.
func quoted(command string) []string {
	var words []string
	var word strings.Builder
	open, escaped, begun := rune(0), false, false
	for _, r := range command {
		switch {
		case escaped:
			word.WriteRune(r)
			escaped = false
		case r == '\\' && open != '\'':
			escaped, begun = true, true
		case open == 0 && (r == '\'' || r == '"'):
			open, begun = r, true
		case r == open:
			open = 0
		case open == 0 && (r == ' ' || r == '\t'):
			if begun {
				words = append(words, word.String())
			}
			word.Reset()
			begun = false
		default:
			word.WriteRune(r)
			begun = true
		}
	}
	if begun {
		words = append(words, word.String())
	}
	return words
}
