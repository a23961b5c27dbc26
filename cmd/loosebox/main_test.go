package main

import (
	"os"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

// TestMain lets scripts run this very program as the command loosebox, without
// building it.
func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"loosebox": func() { os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) },
	})
}
