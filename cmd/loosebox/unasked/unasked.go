// Package unasked keeps the terminal library from asking the terminal for its
// colours while the program is linked together: before main, where a terminal that
// does not answer costs five seconds, and an answer that comes late is typed into
// the program. The theme is a setting; nothing needs to be asked.
//
// The library asks in an init of its own, unless the variable CI is set. Go
// initialises packages by import path as soon as what they import is ready
// (The Go Programming Language Specification, "Program initialization"). This
// package imports only os, and its path sorts before os/signal, which the library
// needs: so it always comes first. A test looks at what the program really writes.
package unasked

import "os"

// variable is what the library takes for a run without a person.
const variable = "CI"

// set says that the variable was set here; it is written before main alone.
var set = quiet()

func quiet() bool {
	if os.Getenv(variable) != "" {
		return false
	}
	return os.Setenv(variable, "1") == nil
}

// Done gives the environment back as it was. Main calls it first.
func Done() {
	if set {
		_ = os.Unsetenv(variable) // it was set a moment ago
	}
}
