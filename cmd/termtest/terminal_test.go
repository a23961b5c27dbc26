//go:build unix

package termtest_test

import (
	"fmt"
	"os"
	"testing"
	"time"

	"github.com/charmbracelet/x/term"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/cmd/termtest"
)

// asChild makes this test binary the program that is started in the terminal.
const asChild = "TERMTEST_CHILD"

func TestMain(m *testing.M) {
	if os.Getenv(asChild) != "" {
		child()
		return
	}
	os.Exit(m.Run())
}

// child asks for the background colour, then tells of every read what came.
func child() {
	if _, err := term.MakeRaw(os.Stdin.Fd()); err != nil {
		fmt.Print(err)
		os.Exit(1)
	}
	fmt.Print("\x1b]11;?\x1b\\")
	buf := make([]byte, 256)
	for row := 2; ; row++ {
		n, err := os.Stdin.Read(buf)
		if err != nil || string(buf[:n]) == "q" {
			os.Exit(7)
		}
		if string(buf[:n]) == "h" { // a frame in pieces, one of them a mark cut in two
			for _, piece := range []string{"\x1b[Hfirst half, ", "second half", "\x1b[1", "0;H"} {
				fmt.Print(piece)
				<-time.After(100 * time.Millisecond)
			}
			continue
		}
		w, h, _ := term.GetSize(os.Stdin.Fd())
		fmt.Printf("\x1b[%d;3Hread %q in %dx%d\x1b[m", row, buf[:n], w, h)
	}
}

func start(t *testing.T) *termtest.Terminal {
	t.Helper()
	self, err := os.Executable()
	require.NoError(t, err)
	x, err := termtest.Start(termtest.Options{Program: self, W: 50, H: 10, Env: termtest.Env(t.TempDir(), "", asChild+"=1")})
	require.NoError(t, err)
	t.Cleanup(func() { assert.NoError(t, x.Kill()) })
	return x
}

func TestQuestionsAreAnsweredAndKeysComeOneByOne(t *testing.T) {
	x := start(t)
	require.NoError(t, x.WaitFor(`read "\x1b]11;rgb:`, 10*time.Second))
	require.NoError(t, x.Send("esc", "b")) // esc and a letter never make one key, however late the system hands them over
	require.NoError(t, x.WaitFor(`  read "b" in 50x10`, 10*time.Second))
	require.NoError(t, x.Send("up"))
	require.NoError(t, x.WaitFor(`  read "\x1b[A" in 50x10`, 10*time.Second))
	require.NoError(t, x.Type("ä"))
	require.NoError(t, x.WaitFor(`  read "ä" in 50x10`, 10*time.Second))
	assert.Equal(t, `  read "\x1b" in 50x10`, x.Screen()[2])
	require.NoError(t, x.Resize(60, 12))
	require.NoError(t, x.Send("x"))
	require.NoError(t, x.WaitFor(`read "x" in 60x12`, 10*time.Second))
	require.NoError(t, x.Send("q"))
	code, err := x.Wait(10 * time.Second)
	require.NoError(t, err)
	assert.Equal(t, 7, code)
}

func TestWhatIsNotSeenIsSaidWithTheScreen(t *testing.T) {
	x := start(t)
	require.NoError(t, x.WaitFor("read", 10*time.Second))
	err := x.WaitFor("nothing of the kind", time.Millisecond)
	require.ErrorContains(t, err, `"nothing of the kind" was not seen in 1ms`)
	require.ErrorContains(t, err, "rgb:", "the screen is part of the error")
	require.Error(t, x.Send("hyper"))
	require.NoError(t, x.Kill())
	require.ErrorContains(t, x.WaitFor("more", time.Minute), "the program ended")
}

func TestAFrameHasABeginningAndAnEnd(t *testing.T) {
	x := start(t)
	require.NoError(t, x.WaitFor("read", 10*time.Second))
	at, err := x.Write("z")
	require.NoError(t, err)
	first, last, err := x.Frame(at, 20*time.Millisecond, 10*time.Second)
	require.NoError(t, err)
	assert.False(t, first.Before(at))
	assert.False(t, last.Before(first))
	assert.Less(t, last.Sub(at), 5*time.Second)
	assert.Positive(t, x.Written())
}

func TestAHalfDrawnFrameIsNotLookedAt(t *testing.T) {
	x := start(t)
	require.NoError(t, x.WaitFor("read", 10*time.Second))
	require.NoError(t, x.Send("h"))
	var seen string
	require.NoError(t, x.Until("the frame", func(x *termtest.Terminal) bool { seen = x.Row("first half"); return seen != "" }, 10*time.Second))
	assert.Contains(t, seen, "second half")
}
