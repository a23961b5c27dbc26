package keys_test

import (
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"

	"loosebox/tui/keys"
)

func press(m tea.KeyMsg) keys.Press { return keys.Press{KeyMsg: m} }

// Unix sends a space as a key of its own, Windows as a character.
func TestSpaceIsOneKeyOnEverySystem(t *testing.T) {
	for _, m := range []tea.KeyMsg{
		{Type: tea.KeySpace, Runes: []rune{' '}},
		{Type: tea.KeySpace},
		{Type: tea.KeyRunes, Runes: []rune{' '}},
	} {
		assert.True(t, keys.Tap().Is(press(m)), "%#v", m)
		text, ok := keys.Text(press(m))
		assert.True(t, ok)
		assert.Equal(t, " ", text)
	}
}

func TestPasteIsNoKey(t *testing.T) {
	assert.False(t, keys.Usual().Is(press(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("u"), Paste: true})))
	assert.True(t, keys.Usual().Is(press(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("u")})))
	assert.False(t, keys.Usual().Is(press(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("u"), Alt: true})), "no binding is on alt")
}

// A slow line, a scanner or a fast hand makes one message of a whole word.
func TestAWordIsNoKey(t *testing.T) {
	for _, word := range []string{"up", "down", "left", "right", "enter", "esc", "tab", "home", "end", "backspace", "delete"} {
		p := press(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(word)})
		assert.Empty(t, keys.Name(p), word)
		for _, g := range keys.Groups() {
			for _, b := range g.Bindings {
				assert.False(t, b.Names(p), "%s: %s", word, b.Does)
			}
		}
		text, ok := keys.Text(p)
		assert.True(t, ok)
		assert.Equal(t, word, text)
	}
}

func TestASwitchedOffKeySaysWhy(t *testing.T) {
	b := keys.Usual().OffIf("nothing is usual here")
	p := press(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("u")})
	assert.False(t, b.Is(p))
	assert.True(t, b.Names(p))
	assert.Contains(t, strings.Join(keys.Table([]keys.Binding{b}), ""), "nothing is usual here")
	assert.Empty(t, keys.Rows([]keys.Binding{b}, 80), "it is not on the bottom line")
}

func TestTheBottomLineFits(t *testing.T) {
	var all []keys.Binding
	for _, g := range keys.Groups() {
		all = append(all, g.Bindings...)
	}
	for width := 10; width < 200; width++ {
		for _, line := range keys.Line(all, width, func(b keys.Binding) string { return b.Shown() + " " + b.Does }) {
			assert.LessOrEqual(t, ansi.StringWidth(line), width)
		}
	}
}

// The rules of the keys: no alt, no function key; space counts and marks only.
func TestEveryBindingKeepsTheRules(t *testing.T) {
	for _, g := range keys.Groups() {
		for _, b := range g.Bindings {
			assert.NotEmpty(t, b.Keys)
			assert.NotEmpty(t, b.More+b.Does, "%v says what it does", b.Keys)
			assert.LessOrEqual(t, len(b.Does), 17, b.Does)
			for _, k := range b.Keys {
				assert.NotContains(t, k, "alt+")
				assert.False(t, len(k) > 1 && k[0] == 'f' && k[1] >= '0' && k[1] <= '9', "%s is a function key", k)
				if k == " " {
					assert.Contains(t, []string{"tap", "mark"}, b.Does)
				}
			}
		}
	}
}

func TestTheBottomHoldsSoManyLinesAndTheFrameAlways(t *testing.T) {
	frame := []keys.Binding{keys.Back(), keys.Help()}
	all := []keys.Binding{keys.Choose(), keys.Up(), keys.Begin(), keys.FindHorse(), keys.New(), keys.Round(), keys.Due(), keys.Settings()}
	for width := 1; width < 200; width++ {
		for lines := 1; lines < 4; lines++ {
			got := keys.Within(all, frame, width, lines)
			assert.Equal(t, frame, got[len(got)-2:], "the frame's stand at the end")
			if len(got) > len(frame) {
				assert.LessOrEqual(t, len(keys.Rows(got, width)), lines)
			}
		}
	}
	assert.Len(t, keys.Within(all, frame, 200, 1), len(all)+2)
}
