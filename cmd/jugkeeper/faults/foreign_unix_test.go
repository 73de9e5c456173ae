//go:build unix

package faults

import (
	"fmt"
	"os"
	"strings"
	"syscall"
	"testing"
	"time"
	"unicode/utf16"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const mebibyte = 1 << 20

// inUTF16 encodes a text in UTF-16 with its byte-order mark.
func inUTF16(text string, high, low int) string {
	out := make([]byte, 0, 2*len(text))
	for _, unit := range utf16.Encode([]rune("\ufeff" + text)) {
		two := [2]byte{}
		two[high], two[low] = byte(unit>>8), byte(unit)
		out = append(out, two[:]...)
	}
	return string(out)
}

// bomb returns a text whose aliases expand to a thousand million words.
func bomb() string {
	text := "a: &a [x, x, x, x, x, x, x, x, x, x]\n"
	for c := 'b'; c < 'k'; c++ {
		text += fmt.Sprintf("%c: &%c [%s]\n", c, c, strings.TrimSuffix(strings.Repeat(fmt.Sprintf("*%c, ", c-1), 10), ", "))
	}
	return text
}

// ivy is another jug.
var ivy = strings.Replace(heath, "HEATH", "IVY", 1)

// full repeats a text up to the size limit of a file.
func full(s string) string { return strings.Repeat(s, (mebibyte-len(heath)-100)/len(s)) }

// foreign are unusual files, with what check says about each.
var foreign = []struct{ what, text, says string }{
	{"aliases of aliases", bomb(), `:1:1: "a" is no key of a ferment`},
	{"an alias of itself", "name: &a [*a]\n", ":1:7: name has an anchor, which is not taken"},
	{"brackets that never close", "name: " + full("["), ": near line 1: brackets or lists are nested thousands deep"},
	{"brackets in brackets", "name: " + strings.Repeat("[", 9000) + strings.Repeat("]", 9000), ":1:7: name is a list here, and takes one value"},
	{"lists in lists", "log:\n" + full("- "), ":2:1: this entry does not read as YAML"},
	{"a key without end", full("x") + ": 1\n", ": near line 1: the file does not read as YAML"},
	{"a huge key of its own", "? " + full("x") + "\n: 1\n", `:1:3: "xxxxx`},
	{"many keys", func() string {
		var text strings.Builder
		for i := range 80_000 {
			fmt.Fprintf(&text, "k%d: 1\n", i)
		}
		return text.String()
	}(), `:1:1: "k0" is no key of a ferment`},
	{"one key over and over", full("name: a\n"), `:2:1: "name" is twice in a ferment`},
	{"a key twice", "tag: A\nname: a\ntag: B\n", `:3:1: "tag" is twice in a ferment (leave one, e.g. tag: BH-A)`},
	{"a log twice", ivy + "log: []\n", `:16:1: "log" is twice in a ferment`},
	{"a file that is too large", ivy + strings.Repeat("#", mebibyte), ": the file is larger than 1 MiB, some ten thousand entries (move old text elsewhere)"},
	{"a million entries", ivy + strings.Repeat("  - {at: 2026-09-13, did: degas}\n", 1_000_000), ": the file is larger than 1 MiB, some ten thousand entries (move old text elsewhere)"},
	{"entries that say nothing", ivy + full("  -\n"), ":16:4: this entry is empty"},
	{"entries that are no YAML", ivy + full("  - {at: 2026-09-13, note: a: b}\n"), ":16:3: this entry does not read as YAML"},
	{"UTF-16, low byte first", inUTF16(ivy, 1, 0), ":1:1: the byte 0xFF here is no UTF-8 text (save the file as UTF-8)"},
	{"UTF-16, high byte first", inUTF16(ivy, 0, 1), ":1:1: the byte 0xFE here is no UTF-8 text (save the file as UTF-8)"},
	{"Latin-1", strings.Replace(ivy, "Heath", "Br\xe8re", 1), ":3:9: the byte 0xE8 here is no UTF-8 text (save the file as UTF-8)"},
	{"a byte that is nothing", ivy + "note: a\x00b\n", ":16:8: the byte 0x00 here is no UTF-8 text (save the file as UTF-8)"},
	{"nothing but such bytes", full("\x00"), ":1:1: the byte 0x00 here is no UTF-8 text (save the file as UTF-8)"},
	{"an escape sequence", ivy + "note: \x1b]0;taken\x07\n", ":16:7: there is a control character here, which YAML does not take (leave it out)"},
	{"tabs", "must:\n\tvolume: 3.6 L\n", ":2:1: the line is indented with a tab (use spaces)"},
	{"marks of a merge", ivy + "<<<<<<< here\n=======\n>>>>>>> there\n", ":16:1: a merge left <<<<<<< here (keep one of the two texts, and take the marks out)"},
	{"a quote without end", ivy + "note: \"" + full("x\n"), `:16:7: note "\"x" begins a quote that does not end`},
	{"the tag of a program", "name: !!python/object:os.system {a: b}\n", `:1:7: name has the tag "!!python/object:os.system", which is not taken`},
	{"keys put in from elsewhere", "<<: {name: b}\n", `:1:1: "<<" is no key of a ferment`},
	{"another document", ivy + "---\nname: b\n", ":16:1: a second document begins here"},
	{"a name that is a path", "protocol: ../../../etc/passwd\nname: ../../x\n", `:1:11: protocol "../../../etc/passwd" is not known`},
	{"a tag without end", "tag: " + strings.Repeat("T", 100_000) + "\n", `:1:6: tag "TTTTT`},
	{"a later format", "format: 2\nnam: x\n", ":1:9: format 2 is newer than this program, which reads format 1: the file is left as it is"},
}

// Any file is reported with its place, quickly, and is left out alone: the jug next to it is shown and can be written,
// and not a byte of the file changes.
func TestForeignFileIsLeftOutAlone(t *testing.T) {
	slowest, of := time.Duration(0), ""
	for _, f := range foreign {
		p := newPlace(t, map[string]string{"ferments/heath.yaml": heath, "ferments/lime.yaml": f.text})
		check := p.command("check", "--at", "2026-09-14 07:00")
		got := ended(t, check)
		took := check.ProcessState.UserTime() + check.ProcessState.SystemTime()
		if took > slowest {
			slowest, of = took, f.what
		}
		assert.Less(t, took, 2*time.Second, f.what) // of processor time; a second on an idle machine
		assert.Equal(t, 1, got.status, f.what)
		assert.Contains(t, got.out, "ferments/lime.yaml"+f.says, f.what)
		assert.NotContains(t, got.out, "ferments/heath.yaml", f.what)
		for _, line := range strings.Split(got.out, "\n") {
			require.Less(t, len(line), 900, f.what)
		}
		if len(f.text) > 1<<16 { // slow ones are only checked once
			continue
		}
		got = p.run(degasLog...)
		assert.Zero(t, got.status, f.what+got.err)
		assert.Contains(t, got.out, "HEATH", f.what)
		require.Equal(t, f.text, p.read("ferments/lime.yaml"), f.what)
	}
	t.Logf("%d files, the slowest is told of in %v of work (%s)", len(foreign), slowest.Round(time.Millisecond), of)
}

// What is slow to read as a ferment is no slower as another file.
func TestForeignFileOfAnotherKind(t *testing.T) {
	texts := map[string]string{"aliases": bomb(), "brackets": "name: " + full("["), "lists": full("- "), "bytes": full("\x00"), "large": full("#") + heath + heath}
	for _, file := range []string{"cellar.yaml", "honey.yaml", "cultures.yaml", "protocols/small-jug.yaml", "ferments/past/ivy.yaml"} {
		for what, text := range texts {
			p := newPlace(t, map[string]string{"ferments/heath.yaml": heath, file: text})
			check := p.command("check", "--at", "2026-09-14 07:00")
			got := ended(t, check)
			assert.Less(t, check.ProcessState.UserTime()+check.ProcessState.SystemTime(), 2*time.Second, file, what)
			assert.Equal(t, 1, got.status, "%s %s", file, what)
			assert.True(t, strings.HasPrefix(got.out, file+":"), "%s %s %s", file, what, got.out)
		}
		p := newPlace(t, map[string]string{"ferments/heath.yaml": heath, file: texts["aliases"]})
		today := p.run("today", "--at", "2026-09-14 07:00")
		assert.Zero(t, today.status, file+today.err)
		assert.Contains(t, today.out, "HEATH", file)
	}
}

// Things that are not files, and forbidden names, are reported and neither read nor waited for.
func TestFoldersPipesAndLinksAsFiles(t *testing.T) {
	p := newPlace(t, map[string]string{"ferments/heath.yaml": heath, "ferments/.hidden.yaml": "tagg: x\n", "ferments/" + strings.Repeat("a", 65) + ".yaml": heath,
		"ferments/new\nline.yaml": heath, "ferments/red\x1b[31m\u202e.yaml": heath})
	require.NoError(t, os.Mkdir(p.path("ferments/folder.yaml"), 0o777))
	require.NoError(t, syscall.Mkfifo(p.path("ferments/pipe.yaml"), 0o666))
	require.NoError(t, os.Symlink("/dev/zero", p.path("ferments/zero.yaml")))
	require.NoError(t, os.Symlink("loop.yaml", p.path("ferments/loop.yaml")))
	require.NoError(t, os.Symlink("/nowhere/x", p.path("ferments/gone.yaml")))
	got := p.run("check", "--at", "2026-09-14 07:00")
	assert.Equal(t, strings.Join([]string{
		"ferments/gone.yaml: is a link that leads to no file (fix the link, or take it out)",
		"ferments/loop.yaml: cannot be read: too many levels of symbolic links",
		"ferments/pipe.yaml: is no plain file",
		"ferments/zero.yaml: is no plain file",
		"ferments/" + strings.Repeat("a", 65) + ".yaml: is not read: a name is at most 64 letters, digits, _ and, not first, - (a copy? give it a name of its own, e.g. bh-a.yaml) (a remark)",
		"ferments/new line.yaml: is not read: a name is at most 64 letters, digits, _ and, not first, - (a copy? give it a name of its own, e.g. bh-a.yaml) (a remark)",
		"ferments/red\ufffd[31m.yaml: is not read: a name is at most 64 letters, digits, _ and, not first, - (a copy? give it a name of its own, e.g. bh-a.yaml) (a remark)",
	}, "\n")+"\n", got.out)
	assert.Contains(t, p.run("today", "--at", "2026-09-14 07:00").out, "HEATH")
	for _, name := range []string{"../heath", "../../etc/passwd", "/etc/passwd", "heath.yaml", "a/b", "", "con\x1b[31m", strings.Repeat("a", 5000), "-", ".", ".."} {
		for _, args := range [][]string{{"log", name, "degas"}, {"show", name}, {"new", name}, {"new", "moor", "--from", name}, {"export", "sheet", name}} {
			if args[0] == "new" && (name == "-" || name == "" && len(args) > 2) {
				continue // a name of one dash is one, and no parent is none
			}
			got := p.run(append(args, "--yes")...)
			assert.Contains(t, []int{2, 3}, got.status, "%q", args)
			assert.NotContains(t, got.out+got.err, "\x1b", "%q", args)
		}
	}
	assert.Equal(t, heath, p.read("ferments/heath.yaml"))
}
