package entry

import (
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/theme"
)

// everyField makes a field of every kind, and sites around one.
func everyField(o Options) map[string]Widget {
	return map[string]Widget{
		"number": New(temperature(), o), "pick": New(gums(), o), "marks": New(pain(), o), "scale": New(condition(), o),
		"time": New(refill(), o), "heart": New(heartRate(), o), "breath": New(breathRate(), o),
		"weight": New(bodyWeight(), o), "note": New(note(), o), "sites": NewSites(gut(), gut().Sites, o, nil),
		"areas": New(byArea(), o), "signs": New(bySign(), o),
		"event": New(stands3(), o),
		"text":  NewText("name", "", 0, nil, o), "choice": NewOneOf("sex", gums().Choices, "", o),
	}
}

func TestEveryKindHasItsField(t *testing.T) {
	for _, kind := range exam.StepKinds() {
		v := exam.Value{Kind: kind}
		step := exam.Step{Name: "x", Kind: kind, Heard: "heart", Unit: notation.Celsius}
		o := options(&clock{noon()})
		o.Before = &v // an empty value may be read back from an old record
		f := New(step, o)
		assert.NotEmpty(t, f.View(layout.Size{W: 34, H: 9}), kind)
		assert.NotEmpty(t, f.Keys(), kind)
		assert.Nil(t, f.Init())
	}
}

// Whatever is pressed, in whatever room: nothing panics, no line is too wide, an
// accepted answer is whole, and a field that does not take text leaves the
// screen its letters.
func TestEveryFieldKeepsItsPromises(t *testing.T) {
	presses := []string{
		"space", "space", "space", "enter", "enter", "backspace", "up", "down", "left", "right", "home", "end", "tab",
		"0", "1", "2", "3", "4", "9", ".", ",", "-", "c", "f", "k", "g", "l", "b", "i", "n", "m", "e", "t", "u", "x", "w", "h", "o", "r",
	}
	rapid.Check(t, func(r *rapid.T) {
		c := &clock{noon()}
		o := horse(exam.AnimalHorse, 2017)
		o.Now = c.now
		o.Theme = theme.New(rapid.SampledFrom([]theme.Name{theme.Plain, theme.Dark, theme.Light}).Draw(r, "theme"), rapid.Bool().Draw(r, "ascii"))
		fields := everyField(o)
		name := rapid.SampledFrom([]string{
			"number", "pick", "marks", "scale", "time", "heart", "breath", "weight", "note", "sites", "text", "choice", "areas", "signs", "event",
		}).Draw(r, "field")
		f := fields[name]
		for range rapid.IntRange(1, 60).Draw(r, "presses") {
			c.at = c.at.Add(time.Duration(rapid.IntRange(0, 4000).Draw(r, "ms")) * time.Millisecond)
			press := named(rapid.SampledFrom(presses).Draw(r, "key"))
			press.At = c.at
			if rapid.IntRange(0, 20).Draw(r, "pasted") == 0 {
				press = paste(rapid.String().Draw(r, "paste"))
			}
			result, cmd := f.Press(press)
			if result == Accepted {
				_, err := f.Value()
				require.NoError(r, err, "accepted means whole")
			}
			if text, ok := keys.Text(press); ok && len(text) == 1 && !press.Paste && !f.Typing() && len(text) > 0 && contains("uxwhor", text) {
				require.Equal(r, Ignored, result, "the screen's letter")
			}
			_ = cmd
			if name == "number" {
				f.Update(tickMsg{of: &f.(*number).timer, run: f.(*number).timer.run})
			}
			size := layout.Size{W: rapid.IntRange(0, 90).Draw(r, "w"), H: rapid.IntRange(0, 20).Draw(r, "h")}
			lines := f.View(size)
			require.LessOrEqual(r, len(lines), size.H)
			for _, l := range lines {
				require.LessOrEqual(r, ansi.StringWidth(l), size.W, "%q", l)
				require.NotContains(r, l, "\n")
			}
			f.Keys()
		}
	})
}

func contains(set, text string) bool {
	for _, r := range set {
		if string(r) == text {
			return true
		}
	}
	return false
}

func TestEveryFieldIgnoresMessagesOfOthers(t *testing.T) {
	for name, f := range everyField(options(&clock{noon()})) {
		assert.Nil(t, f.Update(tickMsg{of: &ticker{on: true}}), name)
		assert.Nil(t, f.Update(endMsg{of: &ticker{on: true}}), name)
		assert.Nil(t, f.Update(tea.WindowSizeMsg{}), name)
		assert.False(t, f.Busy(), name)
	}
}

// The large digits are drawn with the theme's sign, five rows high, and a
// hundred and more beats with a decimal fit into the narrowest body.
func TestLargeDigits(t *testing.T) {
	plain := theme.New(theme.Plain, true)
	lines := large(plain, "128.4", "/min", 34, 5)
	require.Len(t, lines, digitRows)
	assert.Contains(t, lines[0], "##")
	for _, l := range lines {
		assert.LessOrEqual(t, ansi.StringWidth(l), 34)
	}
	assert.Equal(t, []string{"128.4 /min"}, large(plain, "128.4", "/min", 20, 5), "a plain line where the room is too small")
	seen := map[[digitRows]string]rune{}
	for _, r := range "0123456789" {
		shape, ok := digitShape(r)
		require.True(t, ok)
		other, twice := seen[shape]
		require.False(t, twice, "%c looks like %c", r, other)
		seen[shape] = r
	}
}
