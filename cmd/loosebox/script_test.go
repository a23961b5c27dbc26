package main

import (
	"bytes"
	"errors"
	"image"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"sync"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
	"github.com/stretchr/testify/require"

	"loosebox/storage"
)

// TestScripts runs every script of testdata/script against the commands. Beside
// the usual words of testscript they have:
//
//	code N COMMAND …   the command ends with the exit code N
//	keep NAME REGEXP   the first group of the match in stdout goes into $NAME
//	hold DIR           another run holds the record in DIR until the script ends
//	cut FILE N         only the first N bytes of the file stay
//	flip FILE          a bit changes in the middle of every page but the first two
//	settings DIR           the settings name DIR as the backup folder
//	picture FILE           a small picture, PNG
//	newest DIR FILE        the newest file in DIR is copied to FILE
//	fifo FILE              a pipe with a name
//	endless FILE N SIGN    one line of N bytes, all the same sign
//	hostile FILE       lines of text that would move a cursor, colour or end a line
//	yard DIR               DIR gets a copy of the demo's record, and this machine the key that wrote it
func TestScripts(t *testing.T) {
	t.Parallel()
	testdata, err := filepath.Abs(filepath.Join("..", "..", "testdata"))
	require.NoError(t, err)
	file, err := program()
	require.NoError(t, err)
	yard := scriptYard(file, t.TempDir())
	testscript.Run(t, testscript.Params{
		Dir:                 filepath.Join(testdata, "script"),
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Setup: func(e *testscript.Env) error {
			e.Setenv("LOOSEBOX_DATA", filepath.Join(e.WorkDir, "record"))
			e.Setenv("XDG_DATA_HOME", filepath.Join(e.WorkDir, "xdg"))
			e.Setenv("XDG_STATE_HOME", filepath.Join(e.WorkDir, "state"))
			e.Setenv("LANG", "C.UTF-8")
			e.Setenv("PATH", filepath.Dir(file)+string(filepath.ListSeparator)+e.Getenv("PATH"))
			e.Setenv("TESTDATA", testdata)
			return nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"yard": yard, "code": code, "keep": keep, "hold": hold, "cut": cut, "flip": flip, "hostile": hostile, "settings": settings, "picture": picture, "newest": newestFile, "fifo": fifo, "endless": endless,
		},
	})
}

// scriptYard is the command yard: the demo's record is made once, in a folder, and each script works on a copy.
func scriptYard(program, dir string) func(*testscript.TestScript, bool, []string) {
	record, key := filepath.Join(dir, "record"), filepath.Join(dir, "key")
	made := sync.OnceValues(func() (string, error) {
		c := exec.Command(program, "demo", "--keep", record)
		c.Env = append(os.Environ(), "LANG=C.UTF-8", "XDG_DATA_HOME="+dir, "LOOSEBOX_KEYS="+key)
		said, err := c.CombinedOutput()
		return string(said), err
	})
	return func(ts *testscript.TestScript, neg bool, args []string) {
		if neg || len(args) != 1 {
			ts.Fatalf("usage: yard DIR")
		}
		if said, err := made(); err != nil {
			ts.Fatalf("the yard cannot be made: %v: %s", err, said)
		}
		keys := ts.Getenv("LOOSEBOX_KEYS")
		if keys == "" {
			keys = filepath.Join(ts.Getenv("XDG_STATE_HOME"), "loosebox-key")
		}
		ts.Check(copyFolder(record, ts.MkAbs(args[0])))
		ts.Check(copyFolder(key, keys))
	}
}

// copyFolder copies the files of a folder into a new one; both are their owner's alone.
func copyFolder(from, to string) error {
	list, err := os.ReadDir(from)
	if err != nil {
		return err
	}
	if err := os.MkdirAll(to, 0o700); err != nil {
		return err
	}
	for _, f := range list {
		data, err := os.ReadFile(filepath.Join(from, f.Name()))
		if err != nil {
			return err
		}
		if err := os.WriteFile(filepath.Join(to, f.Name()), data, 0o600); err != nil {
			return err
		}
	}
	return nil
}

func code(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: code N COMMAND …")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	if err := ts.Exec(args[1], args[2:]...); err != nil {
		var exit *exec.ExitError
		if !errors.As(err, &exit) {
			ts.Fatalf("%s: %v", args[1], err)
		}
		got = exit.ExitCode()
	}
	if got != want {
		ts.Fatalf("exit code %d, want %d", got, want)
	}
}

func keep(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: keep NAME REGEXP")
	}
	match := regexp.MustCompile(args[1]).FindStringSubmatch(ts.ReadFile("stdout"))
	if len(match) < 2 {
		ts.Fatalf("stdout does not match %s", args[1])
	}
	ts.Setenv(args[0], match[1])
}

func hold(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: hold DIR")
	}
	r, err := storage.Open(ts.MkAbs(args[0]), storage.Options{})
	ts.Check(err)
	ts.Defer(func() { _ = r.Close() })
}

func cut(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: cut FILE N")
	}
	n, err := strconv.ParseInt(args[1], 10, 64)
	ts.Check(err)
	ts.Check(os.Truncate(ts.MkAbs(args[0]), n))
}

func picture(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: picture FILE")
	}
	var b bytes.Buffer
	ts.Check(png.Encode(&b, image.NewGray(image.Rect(0, 0, 40, 20))))
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), b.Bytes(), 0o600))
}

// flip damages what the record holds: a bit in every page behind the two that
// hold the file's own description.
func flip(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: flip FILE")
	}
	name := ts.MkAbs(args[0])
	data, err := os.ReadFile(name)
	ts.Check(err)
	const page = 4096
	for at := 2*page + page/2; at < len(data); at += page {
		data[at] ^= 0x10
	}
	ts.Check(os.WriteFile(name, data, 0o600))
}

// hostile writes lines to be typed: escape sequences, C1 controls, bidi marks,
// broken UTF-8, and a very long line.
func hostile(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: hostile FILE")
	}
	text := "note \x1b[2J\x1b]0;title\x07red \x1b[31mhorse\n" +
		"note \u009b31mred \u202egnirts\u2066 \xff\xfe broken\n" +
		"note "
	for range 10_000 {
		text += "w"
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(text+"\nquit\n"), 0o600))
}

func settings(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: settings DIR")
	}
	r, err := storage.Open(ts.Getenv("LOOSEBOX_DATA"), storage.Options{})
	ts.Check(err)
	set, err := r.Settings()
	ts.Check(err)
	set.BackupFolder = ts.MkAbs(args[0])
	ts.Check(errors.Join(r.SaveSettings(set), r.Close()))
}

func endless(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 3 {
		ts.Fatalf("usage: endless FILE N SIGN")
	}
	n, err := strconv.Atoi(args[1])
	ts.Check(err)
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), bytes.Repeat([]byte(args[2]), n), 0o600))
}

func newestFile(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: newest DIR FILE")
	}
	list, err := os.ReadDir(ts.MkAbs(args[0]))
	ts.Check(err)
	if len(list) == 0 {
		ts.Fatalf("%s is empty", args[0])
	}
	data, err := os.ReadFile(filepath.Join(ts.MkAbs(args[0]), list[len(list)-1].Name())) // by name: oldest first
	ts.Check(err)
	ts.Check(os.WriteFile(ts.MkAbs(args[1]), data, 0o600))
}
