package main

import (
	"bufio"
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/spf13/pflag"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cellar/jugkeeper/ferment/bench"
	"cellar/jugkeeper/schedule"
	"cellar/jugkeeper/tui"
)

var evening = time.Date(2026, 10, 7, 18, 0, 0, 0, time.UTC)

// around returns a world with a cellar and without a terminal.
func around(dir string, out, errs *bytes.Buffer) world {
	env := map[string]string{"JUGKEEPER_CELLAR": dir, "HOME": dir + "-home", "TERM": "dumb"}
	return world{
		env: func(name string) string { return env[name] }, stdin: strings.NewReader(""), stdout: out, stderr: errs,
		clock: func() time.Time { return evening }, local: time.UTC,
	}
}

// demoCellar returns the invented cellar with a closed ferment, in a new folder.
func demoCellar(t *testing.T) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "cellar")
	require.NoError(t, writeDemo(dir, evening))
	require.NoError(t, os.MkdirAll(filepath.Join(dir, "ferments/past"), 0o777))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "ferments/past/sage.yaml"), []byte("format: 1\n"), 0o666))
	return dir
}

// offered returns the words for completing a command line.
func offered(t *testing.T, dir string, line ...string) []string {
	t.Helper()
	var out, errs bytes.Buffer
	require.Equal(t, 0, run(append([]string{"__complete"}, line...), around(dir, &out, &errs)), errs.String())
	rows := strings.Split(strings.TrimSpace(out.String()), "\n")
	require.Regexp(t, "^:[0-9]+$", rows[len(rows)-1])
	var words []string
	for _, row := range rows[:len(rows)-1] {
		word, _, _ := strings.Cut(row, "\t")
		words = append(words, word)
	}
	return words
}

func TestShellCompletion(t *testing.T) {
	dir := demoCellar(t)
	for line, want := range map[string]string{
		"log |":                                 "buckwheat chestnut-a chestnut-b clover dandelion gorse thyme-a thyme-b elder-1 elder-2",
		"log ch|":                               "chestnut-a chestnut-b",
		"log CH|":                               "CHES-A CHES-B",
		"log chestnut-a,|":                      "chestnut-a,buckwheat chestnut-a,chestnut-b chestnut-a,clover chestnut-a,dandelion chestnut-a,gorse chestnut-a,thyme-a chestnut-a,thyme-b chestnut-a,elder-1 chestnut-a,elder-2",
		"log clover deg|":                       "degas degassed=",
		"show clover |":                         "",
		"today clover |":                        "buckwheat chestnut-a chestnut-b dandelion gorse thyme-a thyme-b elder-1 elder-2",
		"compare clover s|":                     "sage",
		"new heath --from s|":                   "sage",
		"new heath vo|":                         "volume=",
		"done chestnut-b |":                     "nutrient nutrient-2",
		"done chestnut-b,dandelion |":           "nutrient nutrient-1 nutrient-2",
		"skip dandelion nutrient-|":             "nutrient-1",
		"done chestnut-b nutrient |":            "",
		"log chestnut-a lot=|":                  "lot=heath-26 lot=ivy-26 lot=cappings-26",
		"log clover airlock=s|":                 "airlock=still airlock=sucked-back",
		"log clover bottle=t|":                  "bottle=test bottle=tasting",
		"log clover step=ra|":                   "step=rack",
		"new heath protocol=s|":                 "protocol=small-jug",
		"new heath kind=w|":                     "kind=wild",
		"new heath zzz=|":                       "",
		"work alc|":                             "alcohol",
		"work alcohol og=1.1 |":                 "fg= brought=",
		"work alcohol og=1|":                    "",
		"protocol small|":                       "small-jug",
		"help pro|":                             "protocol",
		"completion |":                          "bash fish zsh",
		"--cellar /no/such/one log |":           "",
		"--cellar /no/such/one done a |":        "",
		"--cellar /no/such/one protocol small|": "small-jug",
		"check |":                               "",
		"today --days |":                        "",
	} {
		words := strings.Split(strings.TrimSuffix(line, "|"), " ")
		assert.Equal(t, want, strings.Join(offered(t, dir, words...), " "), line)
	}
	assert.NoDirExists(t, dir+"-home", "nothing is written")
}

// A shell shows the help of a flag without marks.
func TestFlagsAreCompletedInWords(t *testing.T) {
	var out, errs bytes.Buffer
	require.Equal(t, 0, run([]string{"__complete", "log", "--"}, around(demoCellar(t), &out, &errs)), errs.String())
	assert.Contains(t, out.String(), "--cellar\tuse the cellar in the folder DIR\n")
	assert.Contains(t, out.String(), "--help\tshow this help\n")
	assert.NotContains(t, out.String(), "`")
}

// ACCESSIBLE=1 means --plain, for people who set it for every program.
func TestAccessibleFlagMeansPlain(t *testing.T) {
	dir := demoCellar(t)
	for _, line := range []string{"today", "show clover", "help log", "work alcohol og=1.1 fg=1.0", "nonsense"} {
		var plain, accessible, errs bytes.Buffer
		run(append(strings.Fields(line), "--plain"), around(dir, &plain, &plain))
		w := around(dir, &accessible, &accessible)
		env := w.env
		w.env = func(name string) string {
			if name == "ACCESSIBLE" {
				return "1"
			}
			return env(name)
		}
		run(strings.Fields(line), w)
		assert.Equal(t, plain.String(), accessible.String(), line)
		assert.Empty(t, errs.String())
	}
}

func TestVersionFlag(t *testing.T) {
	var flag, command, errs bytes.Buffer
	require.Equal(t, 0, run([]string{"--version"}, around(t.TempDir(), &flag, &errs)))
	require.Equal(t, 0, run([]string{"version"}, around(t.TempDir(), &command, &errs)))
	assert.Equal(t, command.String(), flag.String())
	assert.Regexp(t, "^jugkeeper ", flag.String())
}

func TestCompletionWithABrokenCellar(t *testing.T) {
	dir := demoCellar(t)
	require.NoError(t, os.WriteFile(filepath.Join(dir, "ferments/clover.yaml"), []byte("format: [\n"), 0o666))
	assert.Equal(t, "buckwheat chestnut-a chestnut-b dandelion gorse thyme-a thyme-b elder-1 elder-2", strings.Join(offered(t, dir, "log", ""), " "))
}

// A word with shell characters is never completed, nor one twice: bash inserts what two rows have in common, with their
// descriptions.
func TestOnlyWordsWithoutShellCharactersAreCompleted(t *testing.T) {
	for b := range 256 {
		for _, word := range []string{string(rune(b)), "a" + string(rune(b)), "a" + string(rune(b)) + "b"} {
			rows, _ := begun("", []choice{{word, "is $(this) " + string(rune(b))}, {word, "is $(this) twice"}})
			for _, row := range rows {
				assert.Regexp(t, `^[\pL\pN_][\pL\pN_.,-]*(=[\pL\pN_.,-]*)?(\t|$)`, row)
				assert.NotRegexp(t, "[$`\\\\;&|<>(){}\"]", row)
			}
			assert.LessOrEqual(t, len(rows), 1, word)
		}
	}
}

// TestBashCompletes uses a real bash, if there is one with its package bash-completion.
func TestBashCompletes(t *testing.T) {
	const library = "/usr/share/bash-completion/bash_completion"
	if _, err := os.Stat(library); err != nil {
		t.Skip("no bash-completion")
	}
	var script, errs bytes.Buffer
	require.Equal(t, 0, run([]string{"completion", "bash"}, around(t.TempDir(), &script, &errs)))
	bash := exec.Command("bash", "-c", "source "+library+`
source /dev/stdin
compopt() { :; }
jugkeeper() { printf '%s\n' $'heath,lime-a\tLIME-A, lime blossom' $'heath,lime-b\tLIME-B' :36; }
COMP_LINE='jugkeeper done heath,lime-a' COMP_POINT=27 COMP_TYPE=9 COMP_CWORD=2
COMP_WORDS=(jugkeeper done heath,lime-a)
__start_jugkeeper
printf '%s\n' "${COMPREPLY[@]}"`)
	bash.Stdin = &script
	bash.Env = append(os.Environ(), "LC_ALL=C") // it warns of a language that is not installed
	out, err := bash.CombinedOutput()
	require.NoError(t, err, string(out))
	assert.Equal(t, "heath,lime-a\n", string(out))
}

func TestEveryCommandHasHelp(t *testing.T) {
	for _, c := range newRoot(around(t.TempDir(), nil, nil), false).Commands() {
		assert.NotEmpty(t, c.Short, c.Name())
		assert.True(t, strings.HasPrefix(c.Example, "  jugkeeper "+c.Name()) || c.Name() == "completion", "%s has no example", c.Name())
		assert.NotNil(t, c.ValidArgsFunction, "%s lets a shell complete files", c.Name())
	}
}

// TestTopics: help about the files is next to the README, which links to it, and in the manual page.
func TestTopics(t *testing.T) {
	var out, errs bytes.Buffer
	require.Equal(t, 0, run([]string{"man"}, around(t.TempDir(), &out, &errs)), errs.String())
	manual := strings.NewReplacer(`\-`, "-", `\e`, `\`, `\&`, "").Replace(out.String())
	for name, topic := range topics {
		path := "../../testdata/help/" + name + ".txt"
		out.Reset()
		require.Equal(t, 0, run([]string{"help", name}, around(t.TempDir(), &out, &errs)), errs.String())
		if *update {
			require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o777))
			require.NoError(t, os.WriteFile(path, out.Bytes(), 0o666))
		}
		want, err := os.ReadFile(path)
		require.NoError(t, err)
		assert.Equal(t, string(want), out.String(), "go test ./cmd/jugkeeper -run Topics -update")
		for _, r := range topic.rows() {
			assert.NotRegexp(t, "^;|^ |  ", r.says, "%s says what it is", r.name)
			assert.Contains(t, strings.Join(strings.Fields(manual), " "), strings.Join(strings.Fields(r.name+" "+r.says), " "))
		}
	}
}

func TestManualPage(t *testing.T) {
	var out, errs bytes.Buffer
	w := around(t.TempDir(), &out, &errs)
	require.Equal(t, 0, run([]string{"man"}, w), errs.String())
	said := strings.NewReplacer(`\-`, "-", `\e`, `\`, `\&`, "").Replace(out.String())
	flat := strings.Join(strings.Fields(said), " ")
	root := newRoot(w, false)
	for _, c := range append(root.Commands(), root) {
		assert.Contains(t, said, c.Use)
		assert.Contains(t, said, c.Example)
		c.LocalFlags().VisitAll(func(f *pflag.Flag) {
			if f.Name != "help" {
				assert.Contains(t, said, ".B --"+f.Name)
			}
		})
	}
	for _, f := range bench.Figures() {
		assert.Contains(t, said, ".B "+f.Name+"\n"+f.Use)
	}
	for _, k := range tui.DefaultKeys().Helps(tui.OnBoard) {
		assert.Contains(t, said, k.Does)
	}
	for _, c := range schedule.Cautions() {
		assert.Contains(t, flat, c.Text)
	}
	assert.Equal(t, "a\n\\&.SH \\-\n\\&'x \\e", roff("a\n.SH -\n'x \\"), "no letter is an instruction")
	for _, line := range strings.Split(out.String(), "\n") {
		if strings.HasPrefix(line, ".") {
			assert.Regexp(t, `^\.(TH|SH|SS|TP|B|PP|br|nf|fi|RS|RE)\b`, line)
		}
	}
	if _, err := exec.LookPath("mandoc"); err == nil {
		lint := exec.Command("mandoc", "-T", "lint")
		lint.Stdin = &out
		said, err := lint.CombinedOutput()
		assert.NoError(t, err)
		assert.Empty(t, string(said))
	}
}

// TestLogReadsLineByLine: lines are written or refused one by one until an empty line.
func TestLogReadsLineByLine(t *testing.T) {
	dir := demoCellar(t)
	var out, errs bytes.Buffer
	w := around(dir, &out, &errs)
	s, ids, err := w.openFor(flags{}, "chestnut-b")
	require.NoError(t, err)
	w.stdin = strings.NewReader("1.055@21\ndegass\n\nnutrient 1.4g\n")
	require.NoError(t, s.byLine(w, ids, logFlags{}))
	assert.Equal(t, "kept: CHES-B 1.055 at 21 °C, 18:00\n", out.String())
	assert.Contains(t, errs.String(), "CHES-B gravity 1.0553, ")
	assert.Contains(t, errs.String(), `"degass" is no act, no reading and no key (did you mean degas?)`)
	rest, _ := bufio.NewReader(w.stdin).ReadString('\n')
	assert.Empty(t, rest, "read to its end in one go")
}

// TestFirstRun: without a cellar a person is told where it would be and how to begin, and nothing is created.
func TestFirstRun(t *testing.T) {
	for _, args := range [][]string{nil, {"today"}, {"today", "--plain"}} {
		var out, errs bytes.Buffer
		w := around("", &out, &errs)
		home := t.TempDir()
		w.env = func(name string) string { return map[string]string{"HOME": home}[name] }
		require.Equal(t, 0, run(args, w), errs.String())
		said := strings.Join(strings.Fields(out.String()), " ")
		for _, way := range []string{home + "/.local/share/jugkeeper", "jugkeeper demo", "jugkeeper new LIME-A"} {
			assert.Contains(t, said, way)
		}
		assert.Empty(t, errs.String())
		assert.NoDirExists(t, home+"/.local", "nothing is made")
	}
}

// The exit status for a prompt or a status bar.
func TestOneLineDayWithExitStatus(t *testing.T) {
	var out, errs bytes.Buffer
	w := around(demoCellar(t), &out, &errs)
	assert.Equal(t, overdue, run([]string{"today", "--line", "--exit-code"}, w))
	assert.Regexp(t, `^1 late: CHES-B nutrient 2, 1\.4 g; [^\n]*\n$`, out.String())
	assert.Equal(t, ok, run([]string{"today", "--line"}, w), "nobody asked")
	assert.Equal(t, ok, run([]string{"today", "--exit-code", "buckwheat"}, w), "nothing of this one is late")
	assert.Empty(t, errs.String())
}
