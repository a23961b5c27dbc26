//go:build !unix

package main

import (
	"fmt"
	"os"
)

func main() {
	_, _ = fmt.Fprintln(os.Stderr, "bench needs a system with pseudo-terminals")
	os.Exit(1) //nolint:forbidigo // the end of main
}
