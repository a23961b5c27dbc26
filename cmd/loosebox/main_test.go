package main

import (
	"flag"
	"os"
	"os/signal"
	"path/filepath"
	"runtime"
	"sync"
	"syscall"
	"testing"

	"loosebox/cmd/termtest"
)

// TestMain runs the tests and removes the program that they built.
func TestMain(m *testing.M) {
	// The tests of the whole program mostly wait, at a hand's pace: more of them run at once than there are processors.
	_ = flag.Set("test.parallel", "8") // what is named on the command line is read later, and stands
	for _, s := range []os.Signal{os.Interrupt, syscall.SIGHUP} {
		if signal.Ignored(s) { // as behind nohup: the programs that are started would ignore it too
			signal.Notify(make(chan os.Signal, 1), s)
		}
	}
	code := m.Run()
	if dir := os.Getenv(builtIn); dir != "" {
		_ = os.RemoveAll(dir) // a folder in the system's place for such
	}
	os.Exit(code)
}

// builtIn names the folder of the built program, once there is one.
const builtIn = "LOOSEBOX_TEST_BUILT"

// program is the built program, made once for all tests; in scripts it is the command loosebox.
var program = sync.OnceValues(func() (string, error) {
	dir, err := os.MkdirTemp("", "loosebox-built-")
	if err != nil {
		return "", err
	}
	if err := os.Setenv(builtIn, dir); err != nil {
		return "", err
	}
	file := filepath.Join(dir, "loosebox")
	if runtime.GOOS == "windows" {
		file += ".exe"
	}
	return file, termtest.Build(file, termtest.Desk("14")) // some hundredths of a second: there is a moment to be interrupted in
})
