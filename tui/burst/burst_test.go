package burst_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"loosebox/tui/burst"
	"loosebox/tui/keys"
)

func start() time.Time { return time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC) }

// tape presses keys at times that it is told, and writes down what is done.
type tape struct {
	run burst.Run
	now time.Time
	out []string
}

func (t *tape) done(list []burst.Deed) {
	for _, d := range list {
		t.out = append(t.out, map[burst.DeedKind]string{
			burst.Act: d.Press.String(), burst.Keep: "(keep)", burst.TakeBack: "(back)", burst.Scan: fmt.Sprintf("scan %q", d.Text),
		}[d.Kind])
	}
}

// wait lets time pass; what is due in it is done at its moment.
func (t *tape) wait(ms int) {
	end := t.now.Add(time.Duration(ms) * time.Millisecond)
	for until := t.run.Until(); !until.IsZero() && until.Before(end); until = t.run.Until() {
		t.done(t.run.Due(until))
	}
	t.now = end
}

// A key is not light unless it follows "light:".
func (t *tape) press(m tea.KeyMsg, light bool) {
	t.done(t.run.Press(keys.Press{KeyMsg: m, At: t.now}, light))
}

// A ctrl key acts at once on every screen: the control characters with which a reader begins are not keys of screens.
func TestNoKeyOfAScreenBeginsABurst(t *testing.T) {
	n := 0
	for _, g := range keys.Groups() {
		for _, b := range g.Bindings {
			for _, name := range b.Keys {
				letter, ok := strings.CutPrefix(name, "ctrl+")
				if !ok || len(letter) != 1 {
					continue
				}
				n++
				tp := &tape{now: start()}
				tp.press(tea.KeyMsg{Type: tea.KeyType(letter[0] - 'a' + 1)}, false)
				assert.Equal(t, []string{name}, tp.out)
			}
		}
	}
	assert.Greater(t, n, 8)
}

// types presses characters with the same time between them; the signs of ASCII for
// STX, ETX, CR, LF, TAB and GS are the keys that a terminal makes of them.
func (t *tape) types(text string, gap int, light bool) *tape {
	for i, c := range text {
		if i > 0 {
			t.wait(gap)
		}
		m := tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{c}}
		switch {
		case c == ' ':
			m = tea.KeyMsg{Type: tea.KeySpace, Runes: []rune{' '}}
		case c < ' ':
			m = tea.KeyMsg{Type: tea.KeyType(c)}
		}
		t.press(m, light)
	}
	return t
}

func played(text string, gap int, light bool) string {
	t := &tape{now: start()}
	t.types(text, gap, light).wait(2000)
	return strings.Join(t.out, " ")
}

const chip = "985141000123456"

func TestABurstIsNoAnswer(t *testing.T) {
	want := `scan "985141000123456"`
	for _, gap := range []int{0, 1, 2, 10, 16, 30} {
		for _, end := range []string{"", "\r", "\n", "\r\n", "\t", "\x03", "\x03\r", "\x03\r\n"} {
			for _, begin := range []string{"", "\x02"} {
				got := played(begin+chip+end, gap, false)
				assert.Equal(t, want, got, "%q every %d ms", begin+chip+end, gap)
			}
		}
	}
	assert.Equal(t, `scan "LA 00000 0 985 141000123456"`, played("LA 00000 0 985 141000123456\r\n", 5, false))
	assert.Equal(t, `scan "000000985141000"`, played("000000985141000\r", 5, false), "it may begin with what a held key types")
	assert.Equal(t, `scan "]d2010950600013435210A1\x1d17270228"`, played("]d2010950600013435210A1\x1d17270228\r", 5, false))
}

// A slower reader's digits act; the end of its line never does, and says what was read.
func TestTheEndOfASlowReadersLineIsNoAnswer(t *testing.T) {
	digits := strings.Join(strings.Split(chip, ""), " ")
	for _, gap := range []int{36, 40, 60, 80} {
		for _, end := range []string{"\r", "\r\n", "\t", "\x03", "\x03\r\n"} {
			assert.Equal(t, digits+fmt.Sprintf(" scan %q", chip), played(chip+end, gap, false), "%q every %d ms", end, gap)
			assert.Equal(t, "(keep) "+digits+fmt.Sprintf(" (back) scan %q", chip), played(chip+end, gap, true), "%q every %d ms, light", end, gap)
		}
	}
	assert.Equal(t, digits+" enter", played(chip+"\r", 90, false), "a quick hand")
	assert.Equal(t, "1 2 3 4 5 6 7 8 enter", played("12345678\r", 60, false))
	assert.True(t, strings.HasSuffix(played("(01)09506000134352(17)270228(10)A1B2\r", 60, false), ` scan "(01)09506000134352(17)270228(10)A1B2"`), "a scanner of packages")
	assert.Equal(t, "u "+digits+` scan "u985141000123456"`, played("u"+chip+"\r", 60, false))
}

func TestWhatActedIsTakenBack(t *testing.T) {
	assert.Equal(t, `(keep) 9 8 5 1 4 (back) scan "985141000123456"`, played(chip+"\r", 5, true))
	got := &tape{now: start()}
	got.types("9", 0, true).wait(10)
	got.types(chip[1:], 10, false).wait(500)
	assert.Equal(t, `(keep) 9 (back) scan "985141000123456"`, strings.Join(got.out, " "), "where only the first key is light")
}

func TestWhatAHandTypesActs(t *testing.T) {
	for text, want := range map[string]string{
		"u":     "u",
		" ":     " ",
		"u\r":   "u enter",
		"\x03":  "ctrl+c",
		"12\r":  "1 2 enter",
		"ux 1":  "u x   1",
		"38.9":  "3 8 . 9",
		"uuuuu": "u u u u u",
	} {
		for _, gap := range []int{20, 50, 90, 200} {
			assert.Equal(t, want, played(text, gap, false), "%q every %d ms", text, gap)
		}
	}
	assert.Equal(t, "(keep) c (keep) l (keep) o (keep) v (keep) e (keep) r enter", played("clover\r", 100, true))
	assert.Equal(t, "(keep) c l o v e r enter", played("clover\r", 60, true), "fast, and no reader")
	assert.Equal(t, strings.TrimSpace(strings.Repeat("u ", 40)), played(strings.Repeat("u", 40), 25, false), "held: it all comes through, to be told from presses")
	assert.Equal(t, strings.TrimSpace(strings.Repeat("  ", 40)), strings.TrimSpace(played(strings.Repeat(" ", 40), 25, false)))
}

func TestHowLongAKeyWaits(t *testing.T) {
	one := func(light bool) *tape {
		t := &tape{now: start()}
		return t.types("u", 0, light)
	}
	assert.Equal(t, []string{"(keep)", "u"}, one(true).out, "a light one not at all")
	heavy := one(false)
	assert.Empty(t, heavy.out)
	assert.Equal(t, start().Add(35*time.Millisecond), heavy.run.Until())
	heavy.wait(36)
	assert.Equal(t, []string{"u"}, heavy.out)
	assert.Zero(t, heavy.run.Until())
	space := &tape{now: start()}
	assert.Equal(t, []string{" "}, space.types(" ", 0, false).out, "a lone space not at all")
}

// ctrl+c leaves, but for the ETX behind a burst.
func TestTheEndSignsOfABurst(t *testing.T) {
	got := &tape{now: start()}
	got.types(chip+"\r", 2, false).wait(50)
	got.types("\x03", 0, false).wait(400)
	got.types("\x03", 0, false)
	assert.Equal(t, []string{`scan "985141000123456"`, "ctrl+c"}, got.out)
	got = &tape{now: start()}
	got.types(chip+"\r", 2, false).wait(50)
	got.types("a", 0, false).wait(50)
	got.types("\x03", 0, false)
	assert.Equal(t, []string{`scan "985141000123456"`, "a", "ctrl+c"}, got.out, "once a person has pressed a key, what follows is the person's")
	got = &tape{now: start()}
	got.types(chip, 2, false).wait(50)
	got.press(tea.KeyMsg{Type: tea.KeyDown}, false)
	assert.Equal(t, []string{`scan "985141000123456"`, "down"}, got.out, "any other key is a person's")
	assert.Equal(t, "ctrl+c", played("\x02\x03\x03", 310, false), "a frame with nothing in it")
	assert.Equal(t, `scan "123"`, played("\x02123\x03", 10, false), "what is framed comes from a reader, however short")
}

// Without a burst no press is lost, and their order stays.
func TestAHandLosesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		got, want := &tape{now: start()}, ""
		for range rapid.IntRange(0, 60).Draw(t, "keys") {
			c := rapid.SampledFrom([]rune("u19. \r\t")).Draw(t, "key")
			got.wait(rapid.IntRange(36, 300).Draw(t, "gap"))
			got.types(string(c), 0, rapid.Bool().Draw(t, "light"))
			want += string(c)
		}
		got.wait(1000)
		have := strings.NewReplacer("(keep)", "", "enter", "\r", "tab", "\t").Replace(strings.Join(got.out, ""))
		if have != want {
			t.Fatalf("%q became %q", want, have)
		}
	})
}

// However late or together the keys of a burst are read, its text is complete and none of its keys has an effect that stays.
func TestABurstActsNeverForGood(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		got, text := &tape{now: start()}, rapid.StringMatching(`[0-9A-F]{8,40}`).Draw(t, "text")
		if strings.Trim(text, text[:1]) == "" {
			return
		}
		for _, c := range text {
			got.types(string(c), 0, rapid.Bool().Draw(t, "light"))
			got.wait(rapid.IntRange(0, 34).Draw(t, "gap"))
		}
		got.wait(1000)
		acts, kept := 0, false
		for _, what := range got.out {
			switch {
			case what == "(keep)":
				kept = true
			case what == "(back)":
				acts, kept = 0, false
			case !strings.HasPrefix(what, "scan"):
				acts++
				if !kept {
					t.Fatalf("%s acts and nothing was kept: %q", what, got.out)
				}
			}
		}
		if acts > 0 || got.out[len(got.out)-1] != fmt.Sprintf("scan %q", text) {
			t.Fatalf("%q", got.out)
		}
	})
}
