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
			work = atADesk()
			os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
		},
	})
}

// atADesk is the work factor of passphrases in tests: one takes a millisecond and not a second. LOOSEBOX_LONG=1, as .ci/run
// sets it, tries the usual factor.
func atADesk() string {
	if os.Getenv("LOOSEBOX_LONG") != "" {
		return ""
	}
	return "10"
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
