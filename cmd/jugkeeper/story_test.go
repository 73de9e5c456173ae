package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A story is a file: the files of a cellar, each under its name between "-- "
// and " --", then under "-- story --" commands after a dollar sign with what
// they print and, between brackets, how they end. "$ added FILE" prints the
// lines that a file has more than at the beginning, and fails the story where
// a line of the beginning is gone.
func TestStories(t *testing.T) {
	files, err := filepath.Glob("../../testdata/scripts/*.txt")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".txt"), func(t *testing.T) {
			data, err := os.ReadFile(file)
			require.NoError(t, err)
			head, script, found := strings.Cut(string(data), "-- story --\n")
			require.True(t, found, "%s has no story", file)
			told := retold(t, head, script)
			if *update {
				require.NoError(t, os.WriteFile(file, []byte(head+"-- story --\n"+told), 0o666))
				return
			}
			assert.Equal(t, script, told, "go test ./cmd/jugkeeper -run Stories -update")
		})
	}
}

// retold runs the commands of a story in its own cellar and returns the story with their output.
func retold(t *testing.T, head, script string) string {
	t.Helper()
	s := story{t: t, dir: t.TempDir(), state: t.TempDir(), before: map[string]string{}}
	for _, part := range strings.Split(head, "\n-- ") {
		name, text, ok := strings.Cut(strings.TrimPrefix(part, "-- "), " --\n")
		if !ok {
			continue
		}
		text = strings.TrimSuffix(text, "\n") + "\n"
		path := filepath.Join(s.dir, name)
		require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o777))
		require.NoError(t, os.WriteFile(path, []byte(text), 0o666))
		s.before[name] = text
	}
	return s.run(script)
}

type story struct {
	t          *testing.T
	dir, state string
	before     map[string]string
}

func (s story) run(script string) string {
	var told strings.Builder
	for _, line := range strings.Split(script, "\n") {
		command, is := strings.CutPrefix(line, "$ ")
		switch {
		case is:
			fmt.Fprintln(&told, line)
			told.WriteString(s.command(split(command)))
		case strings.HasPrefix(line, "# "):
			fmt.Fprintln(&told, line)
		}
	}
	return told.String()
}

func (s story) command(args []string) string {
	if args[0] == "added" {
		return s.added(args[1])
	}
	for i, a := range args {
		args[i] = strings.ReplaceAll(a, "CELLAR", s.dir)
	}
	var out bytes.Buffer
	env := map[string]string{"JUGKEEPER_CELLAR": s.dir, "XDG_STATE_HOME": s.state, "TERM": "dumb"}
	status := run(args, world{
		env: func(name string) string { return env[name] }, stdin: strings.NewReader(""), stdout: &out, stderr: &out,
		clock: func() time.Time { return time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC) }, local: time.UTC,
	})
	text := strings.ReplaceAll(out.String(), s.dir, "CELLAR")
	return text + fmt.Sprintf("[%d]\n", status)
}

// added returns the lines added to a file since the beginning.
func (s story) added(name string) string {
	data, err := os.ReadFile(filepath.Join(s.dir, name))
	require.NoError(s.t, err)
	var added strings.Builder
	old := strings.SplitAfter(s.before[name], "\n")
	for _, line := range strings.SplitAfter(string(data), "\n") {
		if len(old) > 0 && line == old[0] {
			old = old[1:]
			continue
		}
		added.WriteString("+" + line)
	}
	assert.Empty(s.t, strings.Join(old, ""), "%s lost lines", name)
	return added.String()
}

// split splits a command at spaces; text in single quotes is one word.
func split(command string) []string {
	var out []string
	for i, part := range strings.Split(command, "'") {
		switch {
		case i%2 == 0:
			out = append(out, strings.Fields(part)...)
		case len(out) > 0 && strings.HasSuffix(out[len(out)-1], "="):
			out[len(out)-1] += part
		default:
			out = append(out, part)
		}
	}
	return out
}
