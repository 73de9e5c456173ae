package faults

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// interactive is how each shell is started with completion for the program, without a person's settings. bash needs its
// package.
var interactive = map[string]struct{ needs, start, ready string }{
	"bash": {"/usr/share/bash-completion/bash_completion", "bash --norc --noprofile -i", "bind 'set page-completions off'; bind 'set completion-query-items 0'; . /usr/share/bash-completion/bash_completion; . <(jugkeeper completion bash)"},
	"zsh":  {"", "zsh -f -i", "autoload -U compinit; compinit -u -D; . <(jugkeeper completion zsh)"},
	"fish": {"", "fish --no-config -i", "jugkeeper completion fish | source"},
}

// hostile are names that run a command if a shell interprets them. The file that the command creates has a name without
// a space.
var hostile = []string{"$(touch${IFS}owned)", "`touch${IFS}owned`", "a;touch owned;", "a|touch owned", "a&touch owned&", "<(touch owned)", "x\ntouch owned\n",
	"'$(touch owned)'", "\"$(touch owned)\"", "(touch owned)", "{a,$(touch${IFS}owned)}", "~+$(touch${IFS}owned)", "=touch", "*$(touch${IFS}owned)", "-a$(touch${IFS}owned)", "\\$(touch${IFS}owned)"}

// Files in which every name is a command run none of them, whatever is completed in a real bash, zsh and fish.
func TestNoShellRunsAName(t *testing.T) {
	t.Parallel()
	files := map[string]string{}
	var cultures, lots strings.Builder
	cultures.WriteString("format: 1\ncultures:\n")
	lots.WriteString("format: 1\nlots:\n")
	for i, name := range hostile {
		fmt.Fprintf(&cultures, "  - {id: %q, name: %q, protocol: wild-culture}\n", name, name)
		fmt.Fprintf(&lots, "  - {id: %q, mass: 1 kg}\n", name)
		for _, twin := range []string{"a", "b"} { // bash inserts what twins have in common
			files[fmt.Sprintf("ferments/h%d-%s.yaml", i, twin)] = fmt.Sprintf("format: 1\nname: %q\ntag: %q\nprotocol: p\nmust: {volume: 3 L, gravity: 1.084}\nlog: [{at: 2026-09-12T18:30:00Z, did: pitch}]\n", name+twin, name)
		}
	}
	files["cultures.yaml"], files["honey.yaml"] = cultures.String(), lots.String()
	files["protocols/p.yaml"] = "format: 1\ntitle: \"$(touch${IFS}owned)\"\nsteps:\n  - {step: \"$(touch${IFS}owned)\", do: degas, when: pitch + 1 h}\n"
	bin := filepath.Dir(program())
	for name, sh := range interactive {
		if _, err := exec.LookPath(name); err != nil || sh.needs != "" && exec.Command("test", "-e", sh.needs).Run() != nil {
			t.Logf("%s is not here, or not its package: not tried", name)
			continue
		}
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			p := newPlace(t, files)
			b := p.onTerminal(p.shell(sh.start, bin))
			b.send(sh.ready + "; echo rea''dy\r")
			b.shows("ready")
			for _, line := range []string{"log ", "log h", "log $", "log `", "log h0-a,", "log H", "done ", "done h0-a ", "done h0-a $", "show '", "new x honey=", "protocol ", "show -", "log {", "log ="} {
				b.send("jugkeeper " + line)
				for range 3 {
					b.send("\t")
					time.Sleep(100 * time.Millisecond)
				}
				for _, key := range []string{"\x03", "\x15"} { // cancels the line, and clears it after a list
					b.send(key)
					time.Sleep(80 * time.Millisecond)
				}
			}
			b.send("echo do''ne\r")
			b.shows("done")
			b.send("jugkeeper comple\t") // a harmless word is completed
			b.shows("tion")
			found, err := filepath.Glob(filepath.Join(p.root, "*owned*"))
			require.NoError(t, err)
			assert.Empty(t, found, "a name was run")
			assert.NoFileExists(t, filepath.Join(p.dir, "owned"))
		})
	}
}

// shell returns a shell with the built program on its path.
func (p place) shell(start, bin string) *exec.Cmd {
	words := strings.Fields(start)
	path, err := exec.LookPath(words[0])
	require.NoError(p.t, err)
	cmd := p.command()
	cmd.Path, cmd.Args = path, words
	cmd.Env = append(cmd.Env, "PATH="+bin+":"+os.Getenv("PATH"), "PS1=> ")
	return cmd
}
