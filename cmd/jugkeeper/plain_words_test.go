package main

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// retired are words that are not shown to a person: odd verbs, internal words of the program, keys of a must's file.
var retired = regexp.MustCompile(`(?i)\b(stands|stood|holds|tells|bears|comes of|(is|are) met|heeded|mends?|mended|deeds?|beside|foot|save that|` +
	`nothing is there which|made up|drill|gates?|windows?|passages?|occurrences?|figure \d+|must\.[a-z]+|passed over|parted|shut|anew|siblings?|` +
	`on one level|come to rest|proved|is freed|(call|take) it up|fed of|laid|no start is|judge by|which is to come)\b`)

// plainUses are places where such a word is right: a key of a file, a real window.
var plainUses = regexp.MustCompile(`(?i)holds: ?\S|open (a|the) window|(is not a|its) window|window (closes|of a step)|\bwindow:`)

// saidInPlans matches the text of plans: titles, sentences and comments.
var saidInPlans = regexp.MustCompile(`(?:title: |say: |# ?)(.*)$`)

// sentences returns every string of a Go file with a space in it, with its place.
func sentences(t *testing.T, path string, each func(place, text string)) {
	files := token.NewFileSet()
	parsed, err := parser.ParseFile(files, path, nil, 0)
	require.NoError(t, err)
	ast.Inspect(parsed, func(node ast.Node) bool {
		switch node := node.(type) {
		case *ast.ImportSpec:
			return false
		case *ast.Field:
			node.Tag = nil
		case *ast.BasicLit:
			if text, err := strconv.Unquote(node.Value); node.Kind == token.STRING && err == nil && strings.Contains(text, " ") {
				each(files.Position(node.Pos()).String(), text)
			}
		}
		return true
	})
}

// TestWordsThatAPersonIsShownArePlain lists every sentence of the program and the built-in plans with a retired word.
// With JUGKEEPER_STRINGS=FILE it writes all sentences to a file.
func TestWordsThatAPersonIsShownArePlain(t *testing.T) {
	var all strings.Builder
	count := 0
	check := func(place, text string) {
		count++
		fmt.Fprintf(&all, "%s\t%q\n", place, text)
		assert.Emptyf(t, retired.FindAllString(plainUses.ReplaceAllString(text, ""), -1), "%s: %s", place, text)
	}
	root := filepath.Join("..", "..")
	for _, folder := range []string{"cmd", "ferment", "schedule", "tui"} {
		require.NoError(t, filepath.WalkDir(filepath.Join(root, folder), func(path string, entry os.DirEntry, err error) error {
			switch name := entry.Name(); {
			case err != nil:
				return err
			case entry.IsDir() && (name == "testdata" || name == "demo"):
				return filepath.SkipDir
			case strings.HasSuffix(name, ".go") && !strings.HasSuffix(name, "_test.go"):
				sentences(t, path, check)
			case strings.HasSuffix(name, ".yaml"):
				text, err := os.ReadFile(path)
				require.NoError(t, err)
				for i, line := range strings.Split(string(text), "\n") {
					if said := saidInPlans.FindStringSubmatch(line); said != nil {
						check(fmt.Sprintf("%s:%d", path, i+1), said[1])
					}
				}
			}
			return nil
		}))
	}
	assert.Greater(t, count, 3000, "the sentences of the program")
	if file := os.Getenv("JUGKEEPER_STRINGS"); file != "" {
		require.NoError(t, os.WriteFile(file, []byte(all.String()), 0o644))
	}
}
