//go:build !linux && !darwin

package journal

import "errors"

func swap(_, _ string) error { return errors.ErrUnsupported }

func openForWriting(string) bool { return false }
