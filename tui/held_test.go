package tui_test

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"loosebox/tui"
	"loosebox/tui/nav"
)

// On no screen does a held key, a reader or a paste store more than one press of that key is meant to, or answer more than
// one point of a check list. A screen that is in no line of heldRows fails.
func TestAHeldKeyStoresWhatOnePressIsMeantTo(t *testing.T) {
	all, have := newTrials(t), map[nav.Name]bool{}
	for _, r := range heldRows() {
		have[r.screen] = true
		all.oppose(r)
	}
	for _, name := range slices.Sorted(maps.Keys(tui.Screens())) {
		assert.True(t, have[name], "the screen %q is not in heldRows: say there what each key may store", name)
	}
}

// oppose does to a screen what a held key, a reader of chips, a scanner of packages and a paste do.
func (all *trials) oppose(r heldRow) {
	var b *trial
	try := func(does string, do func(*trial), may string) {
		if b == nil || b.used {
			b = all.begin(r)
		}
		b.open(r)
		assert.True(all.t, b.shows(r.shows), "%s does not show %q:\n%s", r.screen, r.shows, b.model.View())
		answered := b.answered()
		do(b)
		if r.screen == nav.Sheet && b.to.Sheet.Done {
			_ = b.say(nil, "an import")
		}
		assert.Equal(all.t, may, b.said(), "%s (%s): %s", r.screen, r.shows, does)
		assert.LessOrEqual(all.t, b.answered(), answered+1, "%s (%s): %s", r.screen, r.shows, does)
	}
	try("nothing", func(*trial) {}, "")
	list := b.keys()
	for key := range r.saves {
		assert.Contains(all.t, list, key, "a key of %s (%s)", r.screen, r.shows)
	}
	for _, key := range list {
		try("held "+key, func(b *trial) { b.hold(key, 500*ms) }, r.saves[key])
		if r.saves[key] != "" || key == "enter" {
			try("held at once "+key, func(b *trial) { b.hold(key, 30*ms) }, r.saves[key])
		}
	}
	for _, line := range []string{chip, "001000000098765", "(01)09506000134352(17)270228(10)A1B2", "]d2010950600013435210A1\x1d17270228"} {
		try("read "+line, func(b *trial) { b.scans(line+"\r", 4*ms) }, "")
	}
	try("read slowly", func(b *trial) { b.scans(chip+"\r", 60*ms) }, "")
	for _, text := range []string{"u", strings.Repeat("y", 500), strings.Repeat("u n 1 x\r\n", 56)[:500]} {
		try("pasted "+text[:min(len(text), 7)], func(b *trial) { b.pastes(text) }, "")
	}
}
