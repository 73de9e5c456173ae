// Command jugkeeper keeps the record of a few mead ferments and says what each
// of them needs today.
package main

import (
	_ "cellar/jugkeeper/tui/guard" // before anything that draws: it keeps a silent terminal from holding up a command

	"os"
	"time"
)

func main() {
	os.Exit(run(os.Args[1:], world{
		env:    os.Getenv,
		stdin:  os.Stdin,
		stdout: os.Stdout,
		stderr: os.Stderr,
		clock:  time.Now,
		local:  time.Local,
	}))
}
