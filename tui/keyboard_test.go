package tui_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/desk"
	"loosebox/exam/examtest"
	"loosebox/tui"
	"loosebox/tui/keys"
	"loosebox/tui/nav"
	"loosebox/tui/screentest"
	"loosebox/tui/theme"
)

// sheet is a screen into which digits are typed; letters answer.
type sheet struct {
	page
	text  string
	acted []string
	scans []nav.Scan
	takes bool
}

func (s *sheet) Update(m tea.Msg) tea.Cmd {
	p, ok := m.(keys.Press)
	switch text, typed := keys.Text(p); {
	case !ok:
	case typed && (s.typing || s.Light(p)):
		s.text += text
	default:
		s.acted = append(s.acted, keys.Name(p))
	}
	return nil
}

func (s *sheet) Typed() keys.Light { return s }

func (s *sheet) Light(p keys.Press) bool {
	text, typed := keys.Text(p)
	return typed && (s.typing || strings.Trim(text, "0123456789") == "")
}

func (s *sheet) Keep() func() {
	was := s.text
	return func() { s.text = was }
}

func (s *sheet) TakeScan(scan nav.Scan) (tea.Cmd, bool) {
	s.scans = append(s.scans, scan)
	return nil, s.takes
}

// timer is a message that comes at its time.
type timer struct {
	at  time.Time
	msg tea.Msg
}

// clocked is a program with a clock that only moves when told.
type clocked struct {
	model  tea.Model
	now    time.Time
	timers []timer
	quit   bool
}

// bench is a keyboard before a screen.
type bench struct {
	clocked
	t     *testing.T
	on    *sheet
	store *examtest.Store
}

func newBench(t *testing.T, to nav.Address) *bench {
	b := &bench{clocked: clocked{now: time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC)}, t: t, on: &sheet{page: page{name: "sheet"}}, store: examtest.NewStore()}
	deps := &nav.Deps{Desk: desk.Desk{Store: b.store}, Theme: theme.New(theme.Plain, true), Now: func() time.Time { return b.now }}
	deps.After = b.after
	makers := map[nav.Name]nav.Maker{
		nav.Home:  func(*nav.Deps, nav.Address) nav.Screen { return &page{name: "home"} },
		to.Screen: func(*nav.Deps, nav.Address) nav.Screen { return b.on },
	}
	for _, n := range []nav.Name{nav.Horse, nav.Help} {
		makers[n] = func(_ *nav.Deps, to nav.Address) nav.Screen { return &page{name: string(n) + "-" + string(to.Horse)} }
	}
	b.model = tui.NewKeyboard(tui.New(deps, makers, nav.Address{Screen: nav.Home}, to))
	b.send(tea.WindowSizeMsg{Width: 80, Height: 24})
	return b
}

func (b *clocked) after(after time.Duration, msg tea.Msg) tea.Cmd {
	b.timers = append(b.timers, timer{b.now.Add(after), msg})
	return nil
}

func (b *clocked) send(msg tea.Msg) {
	_, cmd := b.model.Update(msg)
	b.run(cmd)
}

func (b *clocked) run(cmd tea.Cmd) {
	screentest.Run(cmd, func(msg tea.Msg) {
		if _, quit := msg.(tea.QuitMsg); quit {
			b.quit = true
			return
		}
		b.send(msg)
	})
}

// wait lets time pass; timers ring at their moments.
func (b *clocked) wait(d time.Duration) {
	end := b.now.Add(d)
	for {
		i := b.next()
		if i < 0 || b.timers[i].at.After(end) {
			break
		}
		one := b.timers[i]
		b.timers = slices.Delete(b.timers, i, i+1)
		b.now = one.at
		b.send(one.msg)
	}
	b.now = end
}

func (b *clocked) next() int {
	first := -1
	for i, one := range b.timers {
		if first < 0 || one.at.Before(b.timers[first].at) {
			first = i
		}
	}
	return first
}

// types presses keys with a time between them; control characters are keys of
// their own.
func (b *clocked) types(text string, gap time.Duration) {
	for i, c := range text {
		if i > 0 {
			b.wait(gap)
		}
		m := tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{c}}
		switch {
		case c == ' ':
			m = tea.KeyMsg{Type: tea.KeySpace, Runes: []rune{' '}}
		case c < ' ':
			m = tea.KeyMsg{Type: tea.KeyType(c)}
		}
		b.send(m)
	}
}

// together is what one read brings where the keys came faster than it was read.
func (b *bench) together(text string) { b.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(text)}) }

func (b *bench) held(key string, delay, gap time.Duration, long time.Duration) {
	b.types(key, 0)
	b.wait(delay)
	for end := b.now.Add(long); b.now.Before(end); b.wait(gap) {
		b.types(key, 0)
	}
	b.wait(2 * time.Second)
}

func (b *bench) shows(text string) bool {
	return strings.Contains(strings.Join(strings.Fields(ansi.Strip(b.model.View())), " "), text)
}

const (
	chip = "001000000012345"
	ms   = time.Millisecond
)

// horses writes down two horses with chips of no country, and one without.
func (b *bench) horses() (bracken, juniper, moth exam.Horse) {
	save := func(name, chip string) exam.Horse {
		h, err := b.store.SaveHorse(exam.Horse{Revision: 1, Name: name, Kind: exam.AnimalHorse, Sex: exam.Mare, Chip: chip}, "Ann Bell", b.now)
		require.NoError(b.t, err)
		return h
	}
	return save("Bracken", chip), save("Juniper", "001000000098765"), save("Moth", "")
}

func TestAHeldKeyActsOnce(t *testing.T) {
	for _, key := range []string{"u", "\r", "\t"} {
		for _, rate := range []time.Duration{25 * ms, 33 * ms, 92 * ms, 100 * ms} {
			for _, delay := range []time.Duration{250 * ms, 500 * ms, 1100 * ms} {
				b := newBench(t, nav.Address{Screen: nav.Exam})
				b.held(key, delay, rate, 2*time.Second)
				assert.Len(t, b.on.acted, 1, "%q after %s every %s", key, delay, rate)
			}
		}
	}
}

func TestAHeldEscGoesOneStepBack(t *testing.T) {
	b := newBench(t, nav.Address{Screen: nav.Exam})
	for range 2 {
		b.send(nav.GoMsg{To: nav.Address{Screen: nav.Help}})
	}
	b.held("\x1b", 500*ms, 33*ms, 2*time.Second)
	assert.True(t, b.shows("help-"), b.model.View())
}

// A second ctrl+c leaves even if the write has no answer; a held ctrl+c does not.
func TestAHeldCtrlCWaitsForTheDisk(t *testing.T) {
	b := newBench(t, nav.Address{Screen: nav.Exam})
	b.on.saving = true
	b.held("\x03", 500*ms, 33*ms, 2*time.Second)
	assert.False(t, b.quit)
	b.types("\x03", 0)
	b.wait(time.Second)
	assert.True(t, b.quit)
}

func TestPressesOfAPersonAllAct(t *testing.T) {
	b := newBench(t, nav.Address{Screen: nav.Exam})
	b.types("uuuuuuuuuu", 120*ms)
	b.wait(time.Second)
	assert.Len(t, b.on.acted, 10)
	b.types("\r\r\r\r\r", 120*ms)
	b.wait(time.Second)
	assert.Len(t, b.on.acted, 15)
}

func TestWhatMayRepeatRepeats(t *testing.T) {
	b := newBench(t, nav.Address{Screen: nav.Exam})
	b.on.typing = true
	b.held("e", 500*ms, 33*ms, time.Second)
	assert.Len(t, b.on.text, 32)
	b.on.typing, b.on.text = false, ""
	b.held(" ", 500*ms, 33*ms, time.Second)
	assert.Len(t, b.on.acted, 32, "a count tells taps from a held key by itself")
}

func TestWhatIsTypedActsAtOnceAndSpaceNeverWaits(t *testing.T) {
	b := newBench(t, nav.Address{Screen: nav.Exam})
	b.types("7", 0)
	assert.Equal(t, "7", b.on.text)
	b.wait(200 * ms)
	b.types(" ", 0)
	assert.Equal(t, []string{" "}, b.on.acted)
	b.wait(200 * ms)
	b.types("u", 0)
	assert.Len(t, b.on.acted, 1, "what answers waits")
	b.wait(35 * ms)
	assert.Equal(t, []string{" ", "u"}, b.on.acted)
	b.send(tea.KeyMsg{Type: tea.KeyDown})
	b.send(tea.KeyMsg{Type: tea.KeyEnter})
	assert.Equal(t, []string{" ", "u", "down", "enter"}, b.on.acted, "no reader begins with these")
}

// On a busy machine dueMsg and keys come late: no waiting press acts before keys typed meanwhile were read.
func TestALateAnswerToATimerLetsNothingGo(t *testing.T) {
	b := newBench(t, nav.Address{Screen: nav.Exam})
	b.types("u", 0)
	b.wait(500 * ms)
	b.types("u", 0)
	late := b.timers[b.next()]
	b.timers = nil
	b.now = b.now.Add(400 * ms) // the program stands still
	b.send(late.msg)
	b.together("uuuuu")
	b.wait(2 * time.Second)
	assert.Len(t, b.on.acted, 1)

	b = newBench(t, nav.Address{Screen: nav.Exam})
	b.types("u", 0)
	late = b.timers[b.next()]
	b.timers = nil
	b.now = b.now.Add(70 * ms)
	b.send(late.msg)
	b.together("985141000123456")
	b.wait(2 * time.Second)
	assert.Empty(t, b.on.acted)
}

// An esc that was the first byte of what the terminal itself sends takes no step back;
// a real one does, alone and before another key.
func TestAnEscThatWasNoKeyIsDropped(t *testing.T) {
	b := newBench(t, nav.Address{Screen: nav.Exam})
	b.types("\x1b", 0)
	b.wait(10 * ms)
	b.send(tui.NoEscMsg{})
	b.wait(time.Second)
	assert.True(t, b.shows("sheet"), b.model.View())
	b.types("u", 0)
	b.wait(time.Second)
	b.send(tui.NoEscMsg{}) // nothing waits
	assert.Equal(t, []string{"u"}, b.on.acted)
	b.types("\x1b", 0)
	b.wait(25 * ms)
	assert.True(t, b.shows("home"), "esc acts after 25 ms")

	b = newBench(t, nav.Address{Screen: nav.Exam})
	b.types("\x1b"+" ", ms)
	assert.True(t, b.shows("home"), "and before the next key")
}

// Keys pressed while the window was too small do nothing when it grows.
func TestAKeyThatWaitsInATooSmallWindowIsDropped(t *testing.T) {
	for _, keys := range []string{"u", "ux", "uu", "5", "\r"} {
		b := newBench(t, nav.Address{Screen: nav.Exam})
		b.send(tea.WindowSizeMsg{Width: 59, Height: 24})
		b.types(keys, 20*ms)
		b.wait(10 * ms)
		b.send(tea.WindowSizeMsg{Width: 80, Height: 24})
		b.wait(time.Second)
		assert.Empty(t, b.on.acted, "%q", keys)
		assert.Empty(t, b.on.text, "%q", keys)
		b.types("u", 0)
		b.wait(time.Second)
		assert.Equal(t, []string{"u"}, b.on.acted, "the next press counts, after %q", keys)

		b = newBench(t, nav.Address{Screen: nav.Exam}) // read before the window grew, delivered behind it
		b.send(tea.WindowSizeMsg{Width: 59, Height: 24})
		b.send(tea.WindowSizeMsg{Width: 80, Height: 24})
		b.types(keys, 20*ms)
		b.wait(time.Second)
		assert.Empty(t, b.on.acted, "%q", keys)
		assert.Empty(t, b.on.text, "%q", keys)
	}
}

// A chip that is read while the window grows is looked up.
func TestAScanWhileTheWindowGrows(t *testing.T) {
	b := newBench(t, nav.Address{Screen: nav.Exam})
	b.send(tea.WindowSizeMsg{Width: 59, Height: 24})
	b.types(chip[:3], 5*ms)
	b.send(tea.WindowSizeMsg{Width: 80, Height: 24})
	b.wait(5 * ms)
	b.types(chip[3:]+"\r", 5*ms)
	b.wait(time.Second)
	require.Len(t, b.on.scans, 1)
	assert.Equal(t, chip, b.on.scans[0].Chip)
	assert.Empty(t, b.on.acted)
}

func TestPastedLettersAreNoKeys(t *testing.T) {
	b := newBench(t, nav.Address{Screen: nav.Exam})
	for _, text := range []string{"u", "1", "enter", chip} {
		b.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(text), Paste: true})
	}
	b.wait(time.Second)
	for _, name := range b.on.acted {
		assert.NotContains(t, []string{"u", "enter"}, name)
	}
}

// scans are the ways in which a reader sends a number.
func (b *bench) scan(number string, way int) {
	frames := [][2]string{{"", "\r"}, {"\x02", "\x03"}, {"", ""}, {"\x02", "\r\n"}}
	frame := frames[way%len(frames)]
	switch gap := []time.Duration{0, 2 * ms, 10 * ms}[way/len(frames)%3]; {
	case gap == 0:
		b.types(frame[0], 0)
		b.together(number)
		b.types(frame[1], 0)
	default:
		b.types(frame[0]+number+frame[1], gap)
	}
	b.wait(300 * ms)
}

const ways = 12

func TestAScanChangesNothingAndSaysWhoseItIs(t *testing.T) {
	for way := range ways {
		for _, typing := range []bool{false, true} {
			b := newBench(t, nav.Address{Screen: nav.Exam})
			b.horses()
			b.on.typing = typing
			b.types("4", 0)
			b.wait(time.Second)
			b.scan(chip, way)
			assert.Equal(t, "4", b.on.text, "way %d", way)
			assert.Empty(t, b.on.acted, "way %d", way)
			assert.False(t, b.quit)
			assert.True(t, b.shows("This is the chip of Bracken."), b.model.View())
			require.Len(t, b.on.scans, 1)
			b.scan("001000000000777", way)
			assert.True(t, b.shows("No horse in the record has chip 001000000000777."), b.model.View())
			assert.Equal(t, "4", b.on.text)
			assert.Empty(t, b.on.acted)
		}
	}
}

// A chip is recognised although a key was pressed just before the reader.
func TestAScanRightBehindAKey(t *testing.T) {
	b := newBench(t, nav.Address{Screen: nav.Exam})
	b.horses()
	b.types("u"+chip+"\r", 2*ms)
	b.wait(time.Second)
	assert.Empty(t, b.on.acted)
	assert.True(t, b.shows("This is the chip of Bracken."), b.model.View())
}

func TestAScanIsComparedWithTheHorseHere(t *testing.T) {
	b := newBench(t, nav.Address{Screen: nav.Exam})
	bracken, juniper, moth := b.horses()
	for _, c := range []struct {
		here  exam.Horse
		chip  string
		words string
	}{
		{bracken, chip, "Right horse: this is the chip of Bracken."},
		{juniper, chip, "Wrong horse: this is the chip of Bracken, not of Juniper."},
		{bracken, "001000000000777", "No horse in the record has chip 001000000000777. Bracken has 001000000012345."},
		{moth, "001000000000777", "No chip of Moth is recorded."},
		{moth, chip, "Wrong horse: this is the chip of Bracken, not of Moth."},
	} {
		b := newBench(t, nav.Address{Screen: nav.Review, Horse: c.here.ID})
		b.horses()
		b.scan(c.chip, 5)
		assert.True(t, b.shows(c.words), "%s: %s", c.words, b.model.View())
		assert.False(t, b.shows("I have read this"), "only a needle stops")
	}
}

func TestTheChipOfAnotherHorseStopsANeedle(t *testing.T) {
	for _, name := range []nav.Name{nav.Injection, nav.Draw} {
		b := newBench(t, nav.Address{Screen: name})
		_, juniper, _ := b.horses()
		b = newBench(t, nav.Address{Screen: name, Horse: juniper.ID})
		b.horses()
		b.on.takes = true
		b.scan(chip, 5)
		assert.True(t, b.shows("Wrong horse: this is the chip of Bracken, not of Juniper."), b.model.View())
		assert.Len(t, b.on.scans, 1, "the screen may take an answer back")
		b.types("u1\r\x1b x", 400*ms)
		b.wait(time.Second)
		assert.True(t, b.shows("Wrong horse"), "no key but its own")
		assert.Empty(t, b.on.acted)
		b.scan("001000000098765", 5)
		assert.True(t, b.shows("Wrong horse: this is the chip of Bracken"), "the right chip does not take the alarm away")
		assert.Len(t, b.on.scans, 1)
		b.types("y", 0)
		b.wait(time.Second)
		assert.False(t, b.shows("Wrong horse"))
		assert.Empty(t, b.on.acted, "the key answers nothing below")
		b.scan("001000000098765", 5)
		assert.Len(t, b.on.scans, 2)
	}
}

// Of a horse whose own chip is not known an unknown one says nothing, and of one whose chip is known
// it stops: it is not the chip of this horse.
func TestAnUnknownChipStopsANeedleOfAHorseWithAChip(t *testing.T) {
	b := newBench(t, nav.Address{Screen: nav.Injection})
	bracken, _, moth := b.horses()
	for horse, stops := range map[exam.HorseID]bool{bracken.ID: true, moth.ID: false} {
		b = newBench(t, nav.Address{Screen: nav.Injection, Horse: horse})
		b.horses()
		b.scan("001000000000777", 5)
		assert.True(t, b.shows("No horse in the record has chip 001000000000777."), b.model.View())
		assert.Equal(t, stops, b.shows("Give nothing and draw nothing."), b.model.View())
	}
}

// A key opens a form, and a busy machine hands on right behind it what was typed there: the key is not typed into the
// form as well.
func TestWhatActedIsNotTyped(t *testing.T) {
	b := newBench(t, nav.Address{Screen: nav.Exam})
	b.types("o", 0)
	b.wait(60 * ms)
	assert.Equal(t, []string{"o"}, b.on.acted)
	b.on.typing = true
	b.types("/media/stick/truck.answer", 2*ms)
	b.wait(time.Second)
	assert.Equal(t, "/media/stick/truck.answer", b.on.text)
	assert.Equal(t, []string{"o"}, b.on.acted)
}

// A code of another kind is text where text is typed, and nothing elsewhere.
func TestAnotherCodeIsTextInAField(t *testing.T) {
	for way := range ways {
		b := newBench(t, nav.Address{Screen: nav.Exam})
		b.on.typing = true
		b.types("A", 0)
		b.wait(time.Second)
		b.scan("036000291452", way)
		assert.Equal(t, "A036000291452", b.on.text, "way %d", way)
		b.on.typing = false
		b.scan("036000291452", way)
		assert.Equal(t, "A036000291452", b.on.text)
		assert.Empty(t, b.on.acted)
		assert.True(t, b.shows("Nothing was answered"), b.model.View())
		b.scan("]d2010950600013435210A1\x1d17270228", way)
		assert.Empty(t, b.on.acted)
		assert.False(t, b.quit)
		assert.True(t, b.shows("lot A1, use by 28 Feb 2027"), b.model.View())
		b.on.typing = true
		b.scan("]d2010950600013435210A1\x1d17270228", way)
		assert.Equal(t, "A036000291452", b.on.text, "the code of a package is no text of another field")
	}
}
