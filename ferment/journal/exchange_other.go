//go:build !linux

package journal

import "errors"

func exchange(_, _ string) error { return errors.ErrUnsupported }

func openForWriting(string) bool { return false }
