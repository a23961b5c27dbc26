package tui_test

import (
	"maps"
	"slices"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/examtest"
	"loosebox/exam/steps"
	"loosebox/ranges/words"
	"loosebox/tui"
	"loosebox/tui/nav"
	"loosebox/tui/screentest"
)

// shown is what the program shows at an address, and after each of the keys, in a window of 120x40.
func shown(deps *nav.Deps, to nav.Address, keys ...string) string {
	app := tui.New(deps, tui.Screens(), nav.Address{Screen: nav.Home}, to)
	var send func(tea.Msg)
	send = func(msg tea.Msg) {
		_, cmd := app.Update(msg)
		screentest.Run(cmd, send)
	}
	send(tea.WindowSizeMsg{Width: 120, Height: 40})
	screentest.Run(app.Init(), send)
	out := ansi.Strip(app.View()) + "\n"
	for _, key := range keys {
		send(screentest.Key(key))
		out += ansi.Strip(app.View()) + "\n"
	}
	return out
}

// spared are tables whose keys are looked for on screens, each with the words of it that sentences of the program use too.
func spared() map[string]string {
	return map[string]string{
		"animal": "horse draft", "class": "pony", "sex": "not known", "way of weighing": "scale girth and length", "route": "",
		"evidence": "common practice published", "name of a site for a needle": "", "tube": "", "status of what is due": "due next not known",
		"measure of the tape": "length height girth neck", "state of what follows": "open done to do", "level": "note usual tell the vet",
		"phase of a blood draw": "order stopped drawn needle in needle inserted", "phase of an observation": "begun declined reaction quiet",
		"caution": "come to the shoulder, speaking.", "without a decision": "ordered aloud in an emergency given by the veterinarian",
		"answer to a check list": "neither", "part of the schedule": "", "two sites as one": "", "reason to stop": "", "reason of a late line": "", "where a needle went": "",
	}
}

// With every text of the tables marked no screen shows a key, or English that stands beside the tables.
func TestScreensTakeTheirWordsFromTables(t *testing.T) {
	defer words.Use(nil)
	words.Use(examtest.MarkedWords())
	deps, store := screentest.Deps(t)
	deps.Steps, deps.Routines = steps.Table(), steps.Routines()
	deps.After = func(time.Duration, tea.Msg) tea.Cmd { return nil }
	h, v := screentest.Story(t, store)
	screentest.HandOff(t, store, v.ID)
	screentest.Rule(t, store, v.ID, exam.GoAhead, screentest.Vaccine(), screentest.Blood())
	screentest.NeedleIn(t, store, v.ID)
	var text strings.Builder
	keys := map[nav.Name][]string{
		nav.Exam: {"c", "esc", "l"}, nav.Injection: {"c"}, nav.Draw: {"enter"}, nav.Dangers: {"1"},
	}
	for _, name := range slices.Sorted(maps.Keys(tui.Screens())) {
		text.WriteString(shown(deps, nav.Address{Screen: name, Horse: h.ID, Visit: v.ID}, keys[name]...))
	}
	low := strings.ToLower(text.String())
	require.Contains(t, low, "téll thé vét")
	assert.Empty(t, examtest.Leaks(low, spared()))
}
