// Command jugkeeper keeps the record of a few mead ferments and says what each
// of them needs today.
package main

import (
	_ "cellar/jugkeeper/tui/guard" // before anything that draws: it keeps a silent terminal from holding up a command

	"os"
	"runtime/debug"
	"time"
)

// A plain command is over before it is worth its while to tidy up; the board,
// which stays, does as is usual.
const rareGC, usualGC = 400, 100

func main() {
	debug.SetGCPercent(rareGC)
	os.Exit(run(os.Args[1:], world{
		env:    os.Getenv,
		stdin:  os.Stdin,
		stdout: os.Stdout,
		stderr: os.Stderr,
		clock:  time.Now,
		local:  time.Local,
	}))
}
