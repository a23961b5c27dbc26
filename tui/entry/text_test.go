package entry

import (
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/tui/keys"
)

func note() exam.Step { return exam.Step{ID: "note", Name: "Note", Kind: exam.KindNote} }

func TestNoteTakesEveryLetter(t *testing.T) {
	for system, space := range spaces() {
		f := New(note(), options(&clock{noon()}))
		require.True(t, f.Typing())
		assert.Equal(t, Taken, send(f, "enter"), "an empty note is no answer")
		letters(f, "warm?")
		f.Press(space(time.Time{}))
		letters(f, "xuwh9")
		require.Equal(t, Accepted, send(f, "enter"), system)
		assert.Equal(t, exam.Value{Kind: exam.KindNote, Text: "warm? xuwh9"}, value(t, f))
		send(f, "left", "backspace")
		assert.Equal(t, "warm? xuw9", value(t, f).Text)
		assert.Equal(t, Ignored, send(f, "tab"))
		assert.Equal(t, Ignored, send(f, "up"))
	}
}

func TestNoteCleansWhatIsPasted(t *testing.T) {
	f := New(note(), options(&clock{noon()}))
	r, _ := f.Press(paste("hot\x1b[31m left\nfore\u202e \u200b" + string(rune(0x9b)) + "2J"))
	assert.Equal(t, Taken, r)
	assert.Equal(t, "hot left fore 2J", value(t, f).Text)
	f.Press(keys.Press{KeyMsg: tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{0x202e, 'z', 0x7}}})
	assert.Equal(t, "hot left fore 2Jz", value(t, f).Text)
	f.Press(paste(strings.Repeat("long ", 3000)))
	assert.LessOrEqual(t, len([]rune(value(t, f).Text)), notation.MaxNote)
	golden(t, "note-long", f)
}

// Over a slow connection a whole word arrives in one message, and some words are names of keys.
func TestNoteTakesAWordReadAtOnce(t *testing.T) {
	f := New(note(), options(&clock{noon()}))
	for _, word := range []string{"left", "eye", "up", "down", "home", "enter", "backspace"} {
		r, _ := f.Press(keys.Press{KeyMsg: tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(word)}})
		assert.Equal(t, Taken, r, word)
		f.Press(spaces()["unix"](time.Time{}))
	}
	assert.Equal(t, "left eye up down home enter backspace", value(t, f).Text)
}

func TestNoteIsDrawnWithItsEndInSight(t *testing.T) {
	f := New(note(), options(&clock{noon()}))
	letters(f, strings.Repeat("abcdef ", 60)+"END")
	assert.Contains(t, screen(f, 34, 4), "END_")
	send(f, "home")
	assert.Contains(t, screen(f, 34, 4), "_abcdef")
}

func TestTextOfAForm(t *testing.T) {
	check := func(text string) error {
		_, err := exam.ReadChip(text)
		return err
	}
	f := NewText("chip", "", 0, check, options(&clock{noon()}))
	require.Equal(t, Accepted, send(f, "enter"), "an empty line passes where the check lets it")
	letters(f, "00109810623456")
	require.Equal(t, Taken, send(f, "enter"))
	assert.Contains(t, screen(f, 86, 4), "15 digits")
	letters(f, "7")
	require.Equal(t, Accepted, send(f, "enter"))
	assert.Equal(t, "001098106234567", f.Content())
	assert.Equal(t, "chip: 001098106234567", f.Line(40))
	assert.Contains(t, screen(f, 40, 3), "7_")
	assert.Contains(t, screen(f, 15, 3), "7_", "the end stays in sight")
	f.Active(false)
	assert.NotContains(t, screen(f, 40, 3), "_")
	golden(t, "text", f)
}

func TestChoiceOfAForm(t *testing.T) {
	choices := []exam.Choice{{Key: "mare", Words: "mare"}, {Key: "gelding", Words: "gelding"}}
	f := NewOneOf("sex", choices, "", options(&clock{noon()}))
	assert.Empty(t, f.Chosen())
	require.Equal(t, Accepted, send(f, "2", "enter"))
	assert.Equal(t, "gelding", f.Chosen())
	assert.Equal(t, "sex: gelding", f.Line(30))
	assert.Equal(t, "mare", NewOneOf("sex", choices, "mare", options(&clock{noon()})).Chosen())
}

// In an empty comment of the exam u says that there is nothing to say; a letter behind it begins a word, and pasted text and
// other texts know nothing of it.
func TestNothingElseIsU(t *testing.T) {
	o := options(&clock{noon()})
	o.Nothing = true
	f := New(note(), o)
	require.Equal(t, Taken, send(f, "u"))
	assert.Contains(t, flat(f), "enter saves it")
	require.Equal(t, Accepted, send(f, "enter"))
	assert.Equal(t, None, value(t, f).Text)
	for text, want := range map[string]string{"uneasy": "uneasy", "u h": "u h", "a u": "a u", "urinated, u": "urinated, u"} {
		f := New(note(), o)
		letters(f, text)
		assert.Equal(t, want, value(t, f).Text)
	}
	f = New(note(), o)
	send(f, "u")
	f.Press(paste("p since nine"))
	assert.Equal(t, "up since nine", value(t, f).Text)
	f = New(note(), o)
	f.Press(paste("u"))
	assert.Equal(t, "u", value(t, f).Text)
	f = New(note(), options(&clock{noon()}))
	letters(f, "u")
	assert.Equal(t, "u", value(t, f).Text, "a reason is never none")
	f = New(note(), o)
	send(f, "u", "backspace", "backspace", "backspace", "backspace")
	assert.Error(t, func() error { _, err := f.Value(); return err }())
}

// A paste that does not come in whole is said, in a line of text and in a number.
func TestAPasteThatIsCutSaysSo(t *testing.T) {
	f := New(note(), options(&clock{noon()}))
	f.Press(paste(strings.Repeat("hay ", 10)))
	assert.NotContains(t, flat(f), "cut")
	f.Press(paste(strings.Repeat("hay ", notation.MaxNote)))
	assert.Contains(t, flat(f), "the pasted text was cut: at most")
	letters(f, "x")
	assert.NotContains(t, flat(f), "the pasted text was cut: at most")
	n := New(temperature(), options(&clock{noon()}))
	n.Press(paste("38.4 C"))
	assert.NotContains(t, flat(n), "paste")
	n.Press(paste("38.4 in the left ear at noon, 38.6 later"))
	assert.Contains(t, flat(n), "the pasted text did not fit (at most")
}
