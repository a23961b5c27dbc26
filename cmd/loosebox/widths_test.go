package main

import (
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"github.com/spf13/cobra"
	"github.com/stretchr/testify/assert"
)

// The help of every command fits 80 columns.
func TestHelpFitsEightyColumns(t *testing.T) {
	var look func(*cobra.Command)
	look = func(c *cobra.Command) {
		var b strings.Builder
		c.SetOut(&b)
		assert.NoError(t, c.Help())
		for _, line := range strings.Split(b.String(), "\n") {
			assert.LessOrEqual(t, ansi.StringWidth(line), 80, "%s: %s", c.CommandPath(), line)
		}
		for _, sub := range c.Commands() {
			if sub.Name() != "completion" {
				look(sub)
			}
		}
	}
	look((&env{}).root())
}
