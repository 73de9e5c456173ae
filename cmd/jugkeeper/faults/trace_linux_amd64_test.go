package faults

import (
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/sys/unix"
)

// call is a system call of the program that changes or locks a file.
type call struct {
	n    int // from 1, in the order of the run
	name string
	file string // base name of its path, if any

	thread int
	regs   unix.PtraceRegs
}

func (c call) String() string { return strings.TrimSpace(c.name + " " + c.file) }

// fault is done to a program before or after a call; nil for none.
type fault struct {
	before func(*tracer, call)
	after  func(*tracer, call)
}

// tracer stops a program at every call that changes a file.
type tracer struct {
	pid   int
	fails map[int]unix.Errno // by thread, the errno of its call
	calls []call
}

// kill ends the program at that point.
func (r *tracer) kill() { _ = syscall.Kill(r.pid, syscall.SIGKILL) }

// refuse makes a call fail with an errno.
func (r *tracer) refuse(c call, errno unix.Errno) {
	c.regs.Orig_rax = ^uint64(0)
	_ = unix.PtraceSetRegs(c.thread, &c.regs)
	r.fails[c.thread] = errno
}

// cut makes a write accept only so many bytes.
func (r *tracer) cut(c call, bytes int) {
	c.regs.Rdx = uint64(bytes)
	_ = unix.PtraceSetRegs(c.thread, &c.regs)
}

// traced runs a program to its end under a fault, and returns its calls. The test is skipped if tracing is not allowed.
func traced(t *testing.T, cmd *exec.Cmd, f fault) []call {
	t.Helper()
	calls, _ := held(t, cmd, f)
	return calls
}

// tracedTo is traced with output and exit status.
func tracedTo(t *testing.T, cmd *exec.Cmd, f fault) said {
	t.Helper()
	out, errs := filepath.Join(t.TempDir(), "out"), filepath.Join(t.TempDir(), "err")
	for name, to := range map[string]*io.Writer{out: &cmd.Stdout, errs: &cmd.Stderr} {
		file, err := os.Create(name)
		require.NoError(t, err)
		defer file.Close()
		*to = file
	}
	_, status := held(t, cmd, f)
	said := said{status: status}
	for name, text := range map[string]*string{out: &said.out, errs: &said.err} {
		data, err := os.ReadFile(name)
		require.NoError(t, err)
		*text = string(data)
	}
	return said
}

// held runs a program to its end and returns its calls and its exit status.
func held(t *testing.T, cmd *exec.Cmd, f fault) ([]call, int) {
	t.Helper()
	runtime.LockOSThread()
	defer runtime.UnlockOSThread()
	cmd.Env = append(cmd.Env, "GOMAXPROCS=1", "GOGC=off") // fewer calls by the runtime
	cmd.SysProcAttr = &syscall.SysProcAttr{Ptrace: true, Setpgid: true}
	if err := cmd.Start(); err != nil {
		t.Skipf("no program can be held here: %v", err)
	}
	r := &tracer{pid: cmd.Process.Pid, fails: map[int]unix.Errno{}}
	var status unix.WaitStatus
	if _, err := unix.Wait4(r.pid, &status, 0, nil); err != nil || !status.Stopped() {
		t.Skipf("no program can be held here: %v", err)
	}
	require.NoError(t, unix.PtraceSetOptions(r.pid, unix.PTRACE_O_TRACESYSGOOD|unix.PTRACE_O_TRACECLONE|unix.PTRACE_O_EXITKILL))
	_ = unix.PtraceSyscall(r.pid, 0)
	inside := map[int]*call{}
	for {
		thread, err := unix.Wait4(-r.pid, &status, unix.WALL, nil)
		if err == unix.EINTR {
			continue
		}
		if err != nil || thread == r.pid && (status.Exited() || status.Signaled()) {
			break
		}
		if !status.Stopped() {
			continue
		}
		signal := 0
		switch s := status.StopSignal(); {
		case s == unix.SIGTRAP|0x80:
			r.stopped(thread, inside, f)
		case s != unix.SIGTRAP && s != unix.SIGSTOP:
			signal = int(s)
		}
		_ = unix.PtraceSyscall(thread, signal)
	}
	_ = cmd.Process.Release()
	return r.calls, status.ExitStatus()
}

// stopped handles a thread that enters or leaves a call.
func (r *tracer) stopped(thread int, inside map[int]*call, f fault) {
	if c, is := inside[thread]; is {
		delete(inside, thread)
		if c == nil {
			return
		}
		if errno, fails := r.fails[thread]; fails {
			delete(r.fails, thread)
			var regs unix.PtraceRegs
			if unix.PtraceGetRegs(thread, &regs) == nil {
				regs.Rax = uint64(-int64(errno))
				_ = unix.PtraceSetRegs(thread, &regs)
			}
		}
		if f.after != nil {
			f.after(r, *c)
		}
		return
	}
	inside[thread] = nil
	c := call{thread: thread}
	if unix.PtraceGetRegs(thread, &c.regs) != nil || !r.changes(&c) {
		return
	}
	c.n = len(r.calls) + 1
	r.calls = append(r.calls, c)
	inside[thread] = &c
	if f.before != nil {
		f.before(r, c)
	}
}

// changes reports whether a call changes or locks a file, and names it.
func (r *tracer) changes(c *call) bool {
	ofFile := func(name string) bool {
		path, err := os.Readlink(fmt.Sprintf("/proc/%d/fd/%d", r.pid, c.regs.Rdi))
		c.name, c.file = name, filepath.Base(path)
		return err == nil && strings.HasPrefix(path, "/") && !strings.HasPrefix(path, "/dev/")
	}
	switch c.regs.Orig_rax {
	case unix.SYS_OPENAT:
		c.name, c.file = "open", r.text(c.thread, c.regs.Rsi)
		return c.regs.Rdx&(unix.O_CREAT|unix.O_WRONLY|unix.O_RDWR) != 0 && !strings.HasPrefix(c.file, "/dev/")
	case unix.SYS_WRITE:
		return c.regs.Rdi > 2 && ofFile("write")
	case unix.SYS_FSYNC:
		return ofFile("fsync")
	case unix.SYS_FCHMOD:
		return ofFile("chmod")
	case unix.SYS_FCHOWN:
		return ofFile("chown")
	case unix.SYS_FLOCK:
		return ofFile("lock")
	case unix.SYS_RENAMEAT, unix.SYS_RENAMEAT2, unix.SYS_RENAME:
		c.name = "rename"
		return true
	case unix.SYS_LINKAT:
		c.name = "link"
		return true
	case unix.SYS_UNLINKAT:
		c.name, c.file = "remove", r.text(c.thread, c.regs.Rsi)
		return true
	case unix.SYS_MKDIRAT:
		c.name, c.file = "mkdir", r.text(c.thread, c.regs.Rsi)
		return true
	}
	return false
}

// text returns the base name of a path in the program's memory.
func (r *tracer) text(thread int, at uint64) string {
	buffer := make([]byte, 512)
	n, _ := unix.PtracePeekData(thread, uintptr(at), buffer)
	text, _, _ := strings.Cut(string(buffer[:n]), "\x00")
	return filepath.Base(text)
}
