package form_test

import (
	"errors"
	"strings"
	"testing"
	"time"

	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/tui/entry"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/screen/form"
	"loosebox/tui/screentest"
	"loosebox/tui/theme"
)

type fields struct {
	*form.Form
	name  *form.Text
	kind  *form.OneOf
	marks *form.Several
	at    time.Time
}

func make3(hidden func() bool) *fields {
	o := entry.Options{Theme: theme.New(theme.Plain, false), Now: screentest.Now}
	list := []exam.Choice{{Key: "a", Words: "a"}, {Key: "b", Words: "b"}, {Key: "c", Words: "c"}}
	f := &fields{Form: form.New(o.Theme, "save it", "save"), at: screentest.Now()}
	f.name = form.NewText("name", "", 20, func(s string) error {
		if s == "" {
			return errors.New("a name is needed")
		}
		return nil
	}, o)
	f.kind = form.NewOneOf("kind", list, "b", o)
	f.marks = form.NewMarks("marks", list, []string{"c"}, []string{"a"}, o)
	f.Add(f.name, nil)
	f.Add(f.kind, hidden)
	f.Add(f.marks, nil)
	f.Begin()
	return f
}

// press presses keys a second apart, so that none is the repeat of a held one.
func (f *fields) press(names ...string) form.KeyResult {
	var out form.KeyResult
	for _, name := range names {
		f.at = f.at.Add(time.Second)
		out = f.Press(screentest.Press1(name, f.at))
	}
	return out
}

func TestEnterGoesThroughTheLinesAndSavesAtTheLast(t *testing.T) {
	f := make3(nil)
	assert.Equal(t, form.Taken, f.press("enter"))
	assert.Contains(t, strings.Join(f.Lines(layout.Size{W: 60, H: 20}), "\n"), "a name is needed", "enter stays on what is refused")
	assert.Equal(t, form.Taken, f.press("x", "enter", "right", "enter", "enter"))
	assert.Equal(t, form.Save, f.press("enter"))
	assert.True(t, f.Check())
	assert.Equal(t, "x", f.name.Content())
	assert.Equal(t, "c", f.kind.Chosen())
	assert.True(t, f.Changed())
}

func TestCheckGoesBackToWhatIsRefused(t *testing.T) {
	f := make3(nil)
	assert.False(t, f.Changed())
	assert.Equal(t, form.Save, f.press("down", "down", "ctrl+s"))
	assert.False(t, f.Check())
	assert.True(t, f.Typing(), "the cursor is on the name")
	assert.False(t, f.Changed(), "nothing was changed by it")
}

func TestMarksTakeSpaceOfBothSystems(t *testing.T) {
	for _, space := range []string{"space", "windows space"} {
		f := make3(nil)
		f.press("down", "down", "right", space)
		assert.Equal(t, []string{"b", "c"}, f.marks.Set())
		f.press("1", space)
		assert.Equal(t, []string{"a"}, f.marks.Set(), "a stands alone")
		f.press(space)
		assert.Empty(t, f.marks.Set(), "none is an answer")
		assert.True(t, f.press("enter") == form.Taken)
	}
}

func TestHiddenLinesArePassedOverAndNotDrawn(t *testing.T) {
	f := make3(func() bool { return true })
	f.press("x", "down")
	assert.NotContains(t, strings.Join(f.Lines(layout.Size{W: 60, H: 20}), "\n"), "kind")
	f.press("space")
	assert.Equal(t, []string{"a"}, f.marks.Set(), "the line below has the cursor")
	f.press("up")
	assert.True(t, f.Typing())
}

func TestActiveLineIsAlwaysInSight(t *testing.T) {
	f := make3(nil)
	for range 4 {
		for h := 1; h < 8; h++ {
			lines := f.Lines(layout.Size{W: 40, H: h})
			require.LessOrEqual(t, len(lines), h)
			assert.Contains(t, strings.Join(lines, "\n"), ">", "height %d", h)
			for _, l := range lines {
				assert.LessOrEqual(t, ansi.StringWidth(l), 40)
			}
		}
		f.press("down")
	}
}

// 5 is the syringe of 5 mL, not the fifth of the list.
// A row may be refused for what stands in another one.
func TestARefusalGoesWhenAnotherRowPutsItRight(t *testing.T) {
	f := make3(nil)
	wrong := errors.New("the strength is missing")
	volume := form.NewText("volume", "", 20, func(string) error { return wrong }, entry.Options{Theme: theme.New(theme.Plain, false), Now: screentest.Now})
	f.Add(volume, nil)
	volume.Press(screentest.Press1("enter", screentest.Now()))
	lines := func() string {
		return strings.Join(volume.Lines(theme.New(theme.Plain, false), 80, true), "\n")
	}
	assert.Contains(t, lines(), "the strength is missing")
	wrong = nil
	assert.NotContains(t, lines(), "missing")
}

func TestASizeIsTyped(t *testing.T) {
	var sizes []exam.Choice
	for _, words := range []string{"1 mL", "1 mL tuberculin", "3 mL", "5 mL", "6 mL", "10 mL", "12 mL", "20 mL", "35 mL"} {
		sizes = append(sizes, exam.Choice{Key: words, Words: words})
	}
	row := form.NewOneOf("syringe", sizes, "1 mL", entry.Options{Theme: theme.New(theme.Plain, false), Now: screentest.Now})
	proposed := "10 mL"
	row.Propose(func() string { return proposed })
	row.Follow()
	assert.Equal(t, "10 mL", row.Chosen())
	for i, c := range []struct{ key, want string }{
		{"1", "1 mL"},
		{"2", "12 mL"},
		{"enter", "12 mL"},
		{"2", "12 mL"},
		{"enter", "12 mL"}, // no size is 2 mL: refused, and nothing is changed
		{"3", "3 mL"},
		{"5", "35 mL"},
		{"backspace", "3 mL"},
		{"enter", "3 mL"},
		{"1", "1 mL"},
		{"3", "3 mL"},
		{"enter", "3 mL"}, // no size is 13 mL: neither 1 mL nor another stands
		{"2", "3 mL"},
		{"0", "20 mL"},
		{"enter", "20 mL"},
		{"right", "35 mL"},
		{"left", "20 mL"},
	} {
		result := row.Press(screentest.Press1(c.key, screentest.Now().Add(time.Duration(i)*time.Second)))
		assert.Equal(t, c.want, row.Chosen(), "%d: %s", i, c.key)
		if i == 4 {
			assert.Equal(t, entry.Taken, result, "enter does not go on")
			assert.Contains(t, strings.Join(row.Lines(theme.New(theme.Plain, false), 80, true), " "), "there is no size of 2: 1 mL, 1 mL tuberculin, 3 mL")
		}
	}
	row.Follow()
	assert.Equal(t, "20 mL", row.Chosen(), "what a person chose stays")
	assert.Contains(t, strings.Join(row.Lines(theme.New(theme.Plain, false), 80, true), "\n"), "1 mL  1 mL tuberculin  3 mL  5 mL")
}

func TestCountsOfSeveralThings(t *testing.T) {
	list := []exam.Choice{{Key: "citrate", Words: "citrate"}, {Key: "serum", Words: "serum"}, {Key: "EDTA", Words: "EDTA"}}
	check := func(text string) error {
		if text == "" {
			return errors.New("say which")
		}
		return nil
	}
	r := form.NewCounts("tubes", list, "serum, 2 EDTA, 4 teacups", 3, check, nil)
	assert.Equal(t, "serum, 2 EDTA", r.State())
	at := screentest.Now()
	press := func(names ...string) (out entry.KeyResult) {
		for _, name := range names {
			out = r.Press(screentest.Press1(name, at))
		}
		return out
	}
	press("3", "space", "windows space", "space")
	assert.Equal(t, "serum, 3 EDTA", r.State(), "three of one kind are the most")
	press("left", "backspace", "backspace", "right", "backspace", "backspace", "backspace")
	assert.Empty(t, r.State())
	less := func() string { b, _ := keys.Find(r.Keys(), screentest.Press1("backspace", at)); return b.Off }
	assert.NotEmpty(t, less(), "none can be taken of none")
	press("space")
	assert.Empty(t, less())
	press("backspace")
	assert.Equal(t, entry.Taken, press("enter"))
	drawn := r.Lines(theme.New(theme.Plain, false), 60, true)
	assert.Contains(t, strings.Join(drawn, "\n"), "say which")
	press("1", "space")
	assert.Equal(t, entry.Accepted, press("enter"))
	for _, width := range []int{20, 40, 60} {
		for _, l := range r.Lines(theme.New(theme.Plain, false), width, true) {
			assert.LessOrEqual(t, ansi.StringWidth(l), width)
		}
	}
}
