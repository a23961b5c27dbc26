//go:build !unix

package main

import tea "github.com/charmbracelet/bubbletea"

// drawAgainAfterStop does nothing where no program is stopped.
func drawAgainAfterStop(*tea.Program, func()) (end func()) { return func() {} }
