//go:build !unix

package main

import "github.com/rogpeppe/go-internal/testscript"

// fifo makes a folder where no pipe has a name: it is refused as well.
func fifo(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: fifo FILE")
	}
	ts.Fatalf("scripts with pipes run on unix")
}
