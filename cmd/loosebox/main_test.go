package main

import (
	"flag"
	"os"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

// TestMain lets scripts run this very program as the command loosebox, without
// building it.
func TestMain(m *testing.M) {
	testscript.Main(tidy{m}, map[string]func(){
		"loosebox": func() {
			e := newEnv(os.Stdin, os.Stdout, os.Stderr)
			if os.Getenv("LOOSEBOX_LONG") == "" {
				e.work = 10 // a passphrase takes a millisecond and not a second; .ci/run tries the usual factor
			}
			os.Exit(e.run(os.Args[1:]))
		},
	})
}

// tidy runs the tests and removes the program that they built.
type tidy struct{ m *testing.M }

func (t tidy) Run() int {
	// The tests of the whole program mostly wait, at a hand's pace: more of them run at once than there are processors.
	_ = flag.Set("test.parallel", "6") // what is named on the command line is read later, and stands
	code := t.m.Run()
	if dir := os.Getenv(builtIn); dir != "" {
		_ = os.RemoveAll(dir) // a folder in the system's place for such
	}
	return code
}

// builtIn names the folder of the built program, once there is one.
const builtIn = "LOOSEBOX_TEST_BUILT"
