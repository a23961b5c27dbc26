//go:build unix

package termtest

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"regexp"
	"sync"
	"syscall"
	"time"

	"github.com/charmbracelet/x/vt"
	"github.com/creack/pty"
)

// Options are those of Start: what is started, and in what window: W columns by H rows.
type Options struct {
	Program string
	Args    []string
	W, H    int
	Dir     string
	Env     []string // the whole environment
	Silent  bool     // the terminal answers no question
}

// Env is the environment of a program under test: a home and a data folder of its own, xterm, UTF-8, and more, each
// "NAME=value".
func Env(home, data string, more ...string) []string {
	return append([]string{
		"HOME=" + home, "XDG_DATA_HOME=" + home, "LOOSEBOX_DATA=" + data, "LOOSEBOX_KEYS=" + data,
		"TERM=xterm-256color", "LANG=C.UTF-8", "PATH=" + os.Getenv("PATH"), "TMPDIR=" + os.TempDir(),
	}, more...)
}

// Terminal is a running program and the window it draws in.
type Terminal struct {
	cmd           *exec.Cmd
	master, slave *os.File
	left          bool // cooked; read after ended

	mu       sync.Mutex // guards what follows
	screen   *vt.Emulator
	arrivals []time.Time
	bytes    int
	asked    bool
	drawing  bool   // a frame has begun and not ended
	tail     []byte // the end of what was read; a mark may be cut there

	hand hand // of Send and Type

	changed chan struct{} // holds a token after output arrived
	drained chan struct{} // closed when the last output was read
	ended   chan struct{} // closed when the program ended and all was read
	state   error         // of the program; read after ended
}

// Start starts the program in a window of the given size. End it with Kill, or wait for its end with Wait. An error where
// there is no pseudo-terminal or the program does not start.
func Start(o Options) (*Terminal, error) {
	master, slave, err := pty.Open()
	if err != nil {
		return nil, fmt.Errorf("open a pseudo-terminal: %w", err)
	}
	t := &Terminal{
		master: master, slave: slave, screen: vt.NewEmulator(o.W, o.H),
		changed: make(chan struct{}, 1), drained: make(chan struct{}), ended: make(chan struct{}),
	}
	t.screen.SetScrollbackSize(1) // what left the window is not looked at; ten thousand lines of cells are 100 MB
	if err := t.size(o.W, o.H); err != nil {
		return nil, errors.Join(err, master.Close(), slave.Close())
	}
	t.cmd = exec.Command(o.Program, o.Args...) //nolint:noctx // ended by Kill
	t.cmd.Env, t.cmd.Dir = o.Env, o.Dir
	t.cmd.Stdin, t.cmd.Stdout, t.cmd.Stderr = slave, slave, slave
	t.cmd.SysProcAttr = &syscall.SysProcAttr{Setsid: true, Setctty: true}
	if err := t.cmd.Start(); err != nil {
		return nil, errors.Join(fmt.Errorf("start the program: %w", err), master.Close(), slave.Close())
	}
	if o.Silent {
		go t.discard()
	} else {
		go t.answer()
	}
	go t.read()
	go t.wait()
	return t, nil
}

// answer sends back what the emulator answers to the program's questions about
// colours and abilities, as a real terminal does.
func (t *Terminal) answer() {
	buf := make([]byte, 512)
	for {
		n, err := t.screen.Read(buf)
		if err != nil {
			return
		}
		if _, err := t.master.Write(buf[:n]); err != nil {
			return
		}
	}
}

// questions are what a program writes that the terminal has to answer: colours,
// cursor, abilities (xterm's control sequences).
var questions = regexp.MustCompile(`\x1b\](1\d|4;\d+);\?|\x1b\[\??6n|\x1b\[[>=]?0?c`)

// Asked reports whether the program sent the terminal a question that it has to answer.
func (t *Terminal) Asked() bool {
	t.mu.Lock()
	defer t.mu.Unlock()
	return t.asked
}

// discard takes the emulator's answers and sends none.
func (t *Terminal) discard() {
	buf := make([]byte, 512)
	for {
		if _, err := t.screen.Read(buf); err != nil {
			return
		}
	}
}

// read draws the program's output on the emulator until its end.
func (t *Terminal) read() {
	defer close(t.drained)
	buf := make([]byte, 1<<16)
	for {
		n, err := t.master.Read(buf)
		at := now()
		if n > 0 {
			t.mu.Lock()
			t.arrivals = append(t.arrivals, at)
			t.bytes += n
			t.asked = t.asked || questions.Match(buf[:n])
			t.mark(buf[:n])
			_, _ = t.screen.Write(buf[:n]) // fails only when closed
			t.mu.Unlock()
			select {
			case t.changed <- struct{}{}:
			default:
			}
		}
		if err != nil {
			return
		}
	}
}

// marks are where the renderer of Bubble Tea begins a frame in the alternate window (the cursor goes home) and where it
// ends it (the cursor goes to the last line); leaving the window ends one too.
var marks = regexp.MustCompile(`\x1b\[(H|[0-9]+;[0-9]*H|\?1049l)`)

// mark notes whether a frame is only partly drawn: one frame may arrive in several reads.
func (t *Terminal) mark(part []byte) {
	t.tail = append(t.tail, part...)
	if all := marks.FindAllSubmatch(t.tail, -1); all != nil {
		t.drawing = string(all[len(all)-1][1]) == "H"
	}
	const longest = len("\x1b[1000;1000H")
	t.tail = append(t.tail[:0], t.tail[max(0, len(t.tail)-longest):]...)
}

// whole reports whether no frame is partly drawn.
func (t *Terminal) whole() bool {
	t.mu.Lock()
	defer t.mu.Unlock()
	return !t.drawing
}

func (t *Terminal) wait() {
	t.state = t.cmd.Wait()
	t.left, _ = cooked(t.slave)
	_ = t.slave.Close() // the reader gets the rest, then the end
	<-t.drained
	_ = t.master.Close()
	if pipe, ok := t.screen.InputPipe().(interface{ Close() error }); ok {
		_ = pipe.Close()
	}
	close(t.ended)
}

func (t *Terminal) size(w, h int) error {
	if err := pty.Setsize(t.master, &pty.Winsize{Rows: uint16(h), Cols: uint16(w)}); err != nil { //nolint:gosec // small
		return fmt.Errorf("set the size of the window: %w", err)
	}
	return nil
}

// Resize sets the window to w columns by h rows; the system sends the program SIGWINCH.
func (t *Terminal) Resize(w, h int) error {
	t.mu.Lock()
	t.screen.Resize(w, h)
	t.mu.Unlock()
	return t.size(w, h)
}

// Write sends raw bytes and returns the moment before they were sent.
func (t *Terminal) Write(text string) (time.Time, error) {
	at := now()
	_, err := t.master.WriteString(text)
	if err != nil {
		return at, fmt.Errorf("write to the terminal: %w", err)
	}
	return at, nil
}

// Kill kills the program with signal 9 and waits for its end; nil where it had ended.
func (t *Terminal) Kill() error {
	select {
	case <-t.ended:
		return nil
	default:
	}
	if err := t.cmd.Process.Kill(); err != nil && !errors.Is(err, os.ErrProcessDone) {
		return fmt.Errorf("kill the program: %w", err)
	}
	<-t.ended
	return nil
}

// Wait waits for the program's end and returns its exit code: -1 where a signal ended it. After the timeout -1 and an
// error that shows the window.
func (t *Terminal) Wait(timeout time.Duration) (int, error) {
	select {
	case <-t.ended:
		return t.cmd.ProcessState.ExitCode(), nil
	case <-time.After(timeout):
		return -1, fmt.Errorf("the program did not end in %s:\n%s", timeout, t.dump())
	}
}

func now() time.Time {
	return time.Now() //nolint:forbidigo // stamps of a harness, which has its own clock
}
