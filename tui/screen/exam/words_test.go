package exam_test

import (
	"strings"
	"testing"
	"unicode"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/procedure"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	screen "loosebox/tui/screen/exam"
	"loosebox/tui/screentest"
)

// counted are the words of a drawn exam screen that are counted: all but the horse's own cautions, which stand on its second
// line, and a remark for the veterinarian, which stands above an empty line or the last rule.
func counted(d *screentest.Driver) int {
	n, tell := 0, false
	for i, line := range d.Lines() {
		_, right, found := strings.Cut(line, "│ ")
		tell = found && (strings.Contains(right, "TELL THE VET") || tell && strings.TrimSpace(right) != "")
		switch {
		case i == 1:
			continue
		case tell:
			line, _, _ = strings.Cut(line, "│ ")
		}
		for _, word := range strings.Fields(line) {
			if strings.IndexFunc(word, func(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }) >= 0 {
				n++
			}
		}
	}
	return n
}

// hints are the keys under the last rule, and the lines that they take.
func hints(d *screentest.Driver) (n, lines int) {
	all := d.Lines()
	for i := len(all) - 1; !strings.HasPrefix(all[i], "──"); i-- {
		n, lines = n+len(strings.Split(strings.TrimSpace(all[i]), "   ")), lines+1
	}
	return n, lines
}

// through goes through the full routine at 80x24 of a horse with a past and looks at every step: at the first and the second
// caution in full and at the one line afterwards, and once an answer is begun. Each step is answered with the keys, or passed
// over where they answer nothing.
func through(t *testing.T, look func(*screentest.Driver), keys ...string) {
	deps, store := screentest.Deps(t)
	h := screentest.Yard(t, store)["Bracken"]
	for i := range 6 {
		screentest.Visit(t, store, h, screentest.Now().AddDate(0, 0, -30*(i+1)), 38, 36)
	}
	v, err := store.Begin(exam.Entry{Kind: exam.EntryOpened, At: screentest.Now(), By: "Ann Bell", Opening: &exam.Opening{Horse: h, Routine: "full-exam"}})
	require.NoError(t, err)
	d := screentest.New(t, deps, screen.New, nav.Address{Visit: v.ID}, layout.Size{W: 80, H: 24})
	seen := map[string]bool{}
	for range 100 {
		if d.Last().Screen == nav.Review {
			break
		}
		here := d.Heading(t)
		seen[here] = true
		for range 3 {
			look(d)
			d.Press("tab", "shift+tab")
		}
		d.Press(keys...)
		look(d)
		d.Press("enter")
		if d.Last().Screen != nav.Review {
			look(d)
			if d.Heading(t) == here {
				d.Press("backspace", "x", "enter")
			}
		}
	}
	assert.Equal(t, nav.Review, d.Last().Screen, d.View())
	assert.Greater(t, len(seen), 30, "steps were seen")
}

// TestAnExamScreenIsReadAtAGlance: at most 120 words and six keys on one line, on every step of the full routine.
func TestAnExamScreenIsReadAtAGlance(t *testing.T) {
	for _, keys := range [][]string{{"x"}, {"3", "9", ".", "4"}} { // not done; a third choice, or a fever
		most, where := 0, ""
		through(t, func(d *screentest.Driver) {
			n := counted(d)
			if n > most {
				most, where = n, d.View()
			}
			assert.LessOrEqual(t, n, 120, d.View())
			shown, lines := hints(d)
			assert.LessOrEqual(t, shown, 6, d.View())
			assert.Equal(t, 1, lines, d.View())
		}, keys...)
		t.Logf("at most %d words:\n%s", most, where)
	}
}

// TestEyesNeedNotSearch: what a step asks, its range and its last values stand in the same rows on every step, and the
// answers begin in one.
func TestEyesNeedNotSearch(t *testing.T) {
	at := map[string]map[int]bool{}
	through(t, func(d *screentest.Driver) {
		for i, line := range d.Lines() {
			_, right, found := strings.Cut(line, "│ ")
			for _, begins := range []string{"usual ", "last ", "> ", "  1 ", "next: "} {
				if found && strings.HasPrefix(right, begins) && (begins != "> " || strings.Contains(right, "_")) {
					if at[begins] == nil {
						at[begins] = map[int]bool{}
					}
					at[begins][i] = true
				}
			}
		}
	}, "x")
	for _, begins := range []string{"usual ", "last ", "next: "} {
		assert.Len(t, at[begins], 1, "%q stands in the rows %v", begins, at[begins])
	}
}

// TestEveryCautionOfAStepFitsInFull: in the lines that are kept for it at 80x24.
func TestEveryCautionOfAStepFitsInFull(t *testing.T) {
	_, body := layout.Size{W: 80, H: 24}.Rail()
	for _, c := range procedure.Cautions() {
		if len(c.Steps) > 0 {
			assert.LessOrEqual(t, len(layout.Wrap("▴ "+strings.Join(c.Full, " "), body-2)), 3, c.Key)
		}
	}
}

// TestTheBarOfProgressKeepsToItsWidth: in every width, and it never takes the place of the title.
func TestTheBarOfProgressKeepsToItsWidth(t *testing.T) {
	d, _, _ := begin(t, "Thistle", "full-exam", layout.Size{W: 80, H: 24})
	bar, ok := d.Screen().(interface{ Progress(int) string })
	require.True(t, ok)
	for width := range 80 {
		assert.LessOrEqual(t, len([]rune(bar.Progress(width))), width)
	}
	for _, size := range screentest.Sizes() {
		d.Resize(size)
		assert.Contains(t, d.Lines()[0], d.Screen().Title())
	}
}
