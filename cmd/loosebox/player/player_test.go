package player

import (
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestMain lets the test program be the player: it copies the file and then
// "plays" until it is stopped, or ends at once.
func TestMain(m *testing.M) {
	copyTo := os.Getenv("PLAYER_COPY")
	if copyTo == "" {
		os.Exit(m.Run())
	}
	data, err := os.ReadFile(os.Args[len(os.Args)-1])
	if err == nil {
		err = os.WriteFile(copyTo+".part", data, 0o600)
	}
	if err == nil {
		err = os.Rename(copyTo+".part", copyTo)
	}
	if err != nil {
		os.Exit(1)
	}
	if os.Getenv("PLAYER_SHORT") == "" {
		time.Sleep(time.Hour) // until it is stopped
	}
	os.Exit(0)
}

// itself is a player that is this test program; what it was given lands in the
// returned file. Its temporary files lie in the returned folder.
func itself(t *testing.T, short bool) (p *Player, got, folder string) {
	t.Helper()
	own, err := os.Executable()
	require.NoError(t, err)
	got, folder = filepath.Join(t.TempDir(), "got"), t.TempDir()
	t.Setenv("PLAYER_COPY", got)
	t.Setenv("TMPDIR", folder)
	t.Setenv("TMP", folder)
	if short {
		t.Setenv("PLAYER_SHORT", "1")
	}
	return &Player{command: []string{own}}, got, folder
}

func arrives(t *testing.T, name string) string {
	t.Helper()
	require.Eventually(t, func() bool { _, err := os.Stat(name); return err == nil }, 20*time.Second, 5*time.Millisecond)
	data, err := os.ReadFile(name)
	require.NoError(t, err)
	return string(data)
}

func empty(t *testing.T, folder string) bool {
	t.Helper()
	list, err := os.ReadDir(folder)
	require.NoError(t, err)
	return len(list) == 0
}

func TestASoundIsPlayedStoppedAndCleared(t *testing.T) {
	p, got, folder := itself(t, false)
	stop := p.Play([]byte("RIFF one"))
	require.NotNil(t, stop)
	assert.Equal(t, "RIFF one", arrives(t, got))
	assert.False(t, empty(t, folder), "it plays")
	stop()
	stop()
	assert.True(t, empty(t, folder), "its file is gone")
	p.Close()
}

func TestTheNextSoundEndsTheOneBefore(t *testing.T) {
	p, got, folder := itself(t, false)
	require.NotNil(t, p.Play([]byte("one")))
	assert.Equal(t, "one", arrives(t, got))
	first := p.playing
	require.NoError(t, os.Remove(got))
	require.NotNil(t, p.Play([]byte("two")))
	assert.Equal(t, "two", arrives(t, got))
	<-first.over
	p.Close()
	assert.True(t, empty(t, folder))
}

func TestASoundThatEndsByItselfIsCleared(t *testing.T) {
	p, got, folder := itself(t, true)
	stop := p.Play([]byte("short"))
	assert.Equal(t, "short", arrives(t, got))
	require.Eventually(t, func() bool { return empty(t, folder) }, 20*time.Second, 5*time.Millisecond)
	stop()
	p.Close()
}

func TestWhatCannotBePlayedIsNoMatter(t *testing.T) {
	_, _, folder := itself(t, false)
	p := &Player{command: []string{filepath.Join(folder, "no such player")}}
	assert.Nil(t, p.Play([]byte("x")))
	assert.True(t, empty(t, folder))
	p.Close()
	t.Setenv("TMPDIR", filepath.Join(folder, "gone"))
	t.Setenv("TMP", filepath.Join(folder, "gone"))
	assert.Nil(t, p.Play([]byte("x")), "there is no place for the file")
}

func TestThePlayersOfTheSystems(t *testing.T) {
	only := func(names ...string) func(string) (string, error) {
		return func(name string) (string, error) {
			for _, n := range names {
				if n == name {
					return "/bin/" + n, nil
				}
			}
			return "", errors.New("not there")
		}
	}
	assert.Nil(t, Find("linux", only("afplay", "powershell")))
	assert.Equal(t, []string{"/bin/aplay", "-q", "a.wav"}, Find("linux", only("aplay")).args("a.wav"))
	assert.Equal(t, []string{"/bin/paplay", "a.wav"}, Find("linux", only("aplay", "paplay")).args("a.wav"))
	assert.Equal(t, []string{"/bin/afplay", "a.wav"}, Find("darwin", only("afplay")).args("a.wav"))
	win := Find("windows", only("powershell")).args(`C:\Users\O'Hara\a.wav`)
	assert.Equal(t, `(New-Object System.Media.SoundPlayer 'C:\Users\O''Hara\a.wav').PlaySync()`, win[len(win)-1])
	_ = Find(runtime.GOOS, only()) // none is no matter
}
