package main

import (
	"errors"
	"fmt"

	"cellar/jugkeeper/ferment"
	"cellar/jugkeeper/ferment/journal"
	"cellar/jugkeeper/ferment/line"
	"cellar/jugkeeper/schedule/app"
)

// The exit statuses.
const (
	ok        = 0
	saidNo    = 1
	misused   = 2
	unusable  = 3
	overdue   = 10
	dangerous = 11
)

// statuses are the exit statuses with what they mean.
var statuses = []struct {
	status int
	means  string
}{
	{ok, "done, also where other files have problems"},
	{saidNo, "check found a problem; a file asked for by name has one; a gate, a stop or an unanswered question said no"},
	{misused, "an unknown command, name, step, figure or key; an entry or a value that cannot be read or is out of range"},
	{unusable, "something could not be read or written; a cellar that was named is not there"},
	{overdue, "today --exit-code: something is late"},
	{dangerous, "today --exit-code: something is dangerous"},
}

// failure is an error with the status that the program ends with.
type failure struct {
	status int
	err    error
}

func (f *failure) Error() string { return f.err.Error() }
func (f *failure) Unwrap() error { return f.err }

func usage(format string, args ...any) error {
	return &failure{misused, fmt.Errorf(format, args...)}
}

// statusOf is the exit status of an error: what a person can mend by typing
// something else is misuse, what a rule said is a no, the rest is the disk.
func statusOf(err error) int {
	var f *failure
	var refused *app.Refused
	var name *ferment.UnknownFerment
	var tag *ferment.TwoTagged
	var step *app.UnknownStep
	var value *app.NeedsValue
	var line *line.Error
	var badName *journal.NameError
	switch {
	case err == nil:
		return ok
	case errors.As(err, &f):
		return f.status
	case errors.As(err, &refused):
		return saidNo
	case errors.As(err, &name), errors.As(err, &tag), errors.As(err, &step), errors.As(err, &value), errors.As(err, &line), errors.As(err, &badName):
		return misused
	}
	return unusable
}
