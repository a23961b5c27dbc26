package main

import (
	"fmt"
	"os"
	"strings"

	"github.com/charmbracelet/x/term"
)

// bar shows on a terminal how far a long piece of work is; elsewhere it is silent.
type bar struct {
	e    *env
	what string
	all  int
	draw bool
}

func (e *env) bar(what string, all int) *bar {
	b := &bar{e: e, what: what, all: all}
	if f, ok := e.errOut.(*os.File); ok && term.IsTerminal(f.Fd()) && all > 0 && e.lookup("TERM") != "dumb" {
		b.draw = true
	}
	b.at(0)
	return b
}

// barWidth is in columns, without its ends.
const barWidth = 40

// at shows that so many are done.
func (b *bar) at(done int) {
	if b.draw {
		full := barWidth * done / b.all
		_, _ = fmt.Fprintf(b.e.errOut, "\r%s [%s%s] %d of %d", b.what, strings.Repeat("#", full), strings.Repeat(".", barWidth-full), done, b.all) // nobody reads it: no matter
	}
}

// end clears the line.
func (b *bar) end() {
	if b.draw {
		_, _ = fmt.Fprint(b.e.errOut, "\r"+strings.Repeat(" ", 78)+"\r") // nobody reads it: no matter
	}
}
