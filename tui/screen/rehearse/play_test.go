package rehearse_test

import (
	"fmt"
	"math/rand/v2"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/rehearse"
	"loosebox/tui"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screentest"
)

// stage is the whole program with a clock that the test moves: a message that is
// asked for later comes when the clock reaches it.
type stage struct {
	t       testing.TB
	app     *tui.App
	deps    *nav.Deps
	now     time.Time
	waiting []later
	size    layout.Size
	rung    int
	rng     *rand.Rand

	horse   *rehearse.Horse
	visit   exam.VisitID
	routine exam.Routine
}

type later struct {
	due time.Time
	msg tea.Msg
}

func newStage(t testing.TB, size layout.Size) *stage {
	t.Helper()
	s := &stage{t: t, now: screentest.Now(), size: size, rng: rand.New(rand.NewPCG(7, 7))}
	s.deps, _ = screentest.Deps(t)
	s.deps.Now = func() time.Time { return s.now }
	s.deps.After = func(d time.Duration, msg tea.Msg) tea.Cmd {
		s.waiting = append(s.waiting, later{s.now.Add(d), msg})
		return nil
	}
	s.deps.Bell = func() tea.Msg { s.rung++; return nil }
	s.app = tui.New(s.deps, tui.Screens(), nav.Address{Screen: nav.Home})
	s.resize()
	s.run(s.app.Init())
	return s
}

func (s *stage) resize() { s.send(tea.WindowSizeMsg{Width: s.size.W, Height: s.size.H}) }

func (s *stage) send(msg tea.Msg) {
	_, cmd := s.app.Update(msg)
	s.run(cmd)
}

func (s *stage) run(cmd tea.Cmd) { screentest.Run(cmd, s.send) }

// pass lets so many seconds pass.
func (s *stage) pass(seconds float64) { s.until(s.now.Add(time.Duration(seconds * 1e9))) }

func (s *stage) until(at time.Time) {
	for {
		first := -1
		for i, l := range s.waiting {
			if !l.due.After(at) && (first < 0 || l.due.Before(s.waiting[first].due)) {
				first = i
			}
		}
		if first < 0 {
			break
		}
		l := s.waiting[first]
		s.waiting = slices.Delete(s.waiting, first, first+1)
		if l.due.After(s.now) {
			s.now = l.due
		}
		s.send(l.msg)
	}
	s.now = at
}

// press presses keys a second apart.
func (s *stage) press(names ...string) {
	s.t.Helper()
	for _, name := range names {
		s.pass(1)
		s.tap(name)
	}
}

func (s *stage) tap(name string) { s.send(screentest.Key(name)) }

// write types a text and enter.
func (s *stage) write(text string) {
	for _, r := range text {
		s.pass(0.2)
		s.tap(string(r))
	}
	s.press("enter")
}

func (s *stage) view() string {
	s.t.Helper()
	lines := layout.Lines(s.app.View())
	require.Len(s.t, lines, s.size.H)
	for _, line := range lines {
		require.LessOrEqual(s.t, ansi.StringWidth(line), s.size.W, "%q", line)
	}
	return ansi.Strip(strings.Join(lines, "\n"))
}

// reads is whether the screen holds a text that may be broken over lines of the
// right side.
func (s *stage) reads(text string) bool {
	var words []string
	for _, line := range layout.Lines(s.view()) {
		if _, right, found := strings.Cut(line, "│"); found {
			line = right
		}
		words = append(words, strings.Fields(line)...)
	}
	return strings.Contains(strings.Join(words, " "), strings.Join(strings.Fields(text), " "))
}

// seconds are those of the horse.
func (s *stage) seconds() float64 { return s.now.Sub(s.stored().OpenedAt).Seconds() }

func (s *stage) at(seconds float64) time.Time {
	return s.stored().OpenedAt.Add(time.Duration(seconds * 1e9))
}

func (s *stage) stored() exam.Visit {
	s.t.Helper()
	v, err := s.deps.Rehearsals.Visit(s.visit)
	require.NoError(s.t, err)
	return v
}

// begin goes from the home screen to the horse.
func (s *stage) begin(name string, seed uint64, routine string, modes rehearse.Modes) {
	s.t.Helper()
	s.press("j")
	cases, _ := s.deps.RehearsalCases()
	i := slices.IndexFunc(cases, func(c rehearse.Case) bool { return c.Name == name })
	require.GreaterOrEqual(s.t, i, 0, name)
	s.press(slices.Repeat([]string{"right"}, i+1)...)
	s.press("enter")
	for n, r := range s.deps.Routines {
		if r.Name == routine {
			s.press(slices.Repeat([]string{"right"}, n+1)...)
		}
	}
	if n := slices.Index(rehearse.Drills(), routine); n >= 0 {
		s.press(slices.Repeat([]string{"right"}, len(s.deps.Routines)+n+1)...)
	}
	s.press("enter")
	if modes.Blind {
		s.press("1", "space")
	}
	if modes.Timed {
		s.press("2", "space")
	}
	s.press("enter", "ctrl+u")
	s.press(slices.Repeat([]string{"backspace"}, 20)...)
	s.write(fmt.Sprint(seed))
	s.press("enter")
	s.met(name)
	for i, state := range exam.States() {
		if slices.Contains(s.horse.Context.States, state) {
			s.press(fmt.Sprint(i+1), "space")
		}
	}
	require.True(s.t, s.reads(s.horse.Told()), s.view())
	s.press("ctrl+s")
}

// met reads which horse stands there.
func (s *stage) met(name string) {
	s.t.Helper()
	list, err := s.deps.Rehearsals.Unfinished()
	require.NoError(s.t, err)
	require.NotEmpty(s.t, list, s.view())
	s.visit = list[0].ID
	cases, _ := s.deps.RehearsalCases()
	c, ok := rehearse.CaseNamed(cases, name)
	require.True(s.t, ok)
	s.horse, err = rehearse.Again(list[0], c, s.deps.Steps, s.deps.Ranges)
	require.NoError(s.t, err)
	for _, r := range s.deps.Routines {
		if r.Name == list[0].Routine {
			s.routine = r
		}
	}
}

// mark marks what is stored.
func (s *stage) mark() rehearse.Marks {
	s.t.Helper()
	entries, err := s.deps.Rehearsals.Entries(s.visit)
	require.NoError(s.t, err)
	m, err := rehearse.Mark(s.horse, s.routine, entries, s.deps.Judge)
	require.NoError(s.t, err)
	return m
}

func faults(m rehearse.Marks) []string {
	out := []string{}
	for _, f := range m.Faults() {
		out = append(out, strings.TrimSpace(fmt.Sprintf("%s: %s %s", f.Kind, f.Step, f.Site)))
	}
	return out
}

// slips are the faults that are made on purpose.
type slips struct {
	tapFactor float64
	unsafe    string
	wrong     map[exam.StepID]string
	skip      exam.StepID
	byEar     bool
}

// answer examines the place that the screen asks, and answers it.
func (s *stage) answer(k exam.Key, slip slips) {
	s.t.Helper()
	step, _ := s.deps.Steps.ByID(k.Step)
	s.question(k, slip)
	v, ok := s.horse.Truth(k)
	if word, wrong := slip.wrong[k.Step]; wrong {
		v.Words = []string{word}
	}
	if step.Kind != exam.KindCount && step.Kind != exam.KindTime && step.Kind != exam.KindNote {
		s.pass(s.horse.NeedOf(k, v).Seconds)
	}
	switch {
	case step.Kind == exam.KindNote:
		s.write("nothing more")
	case !ok:
		s.t.Fatalf("%v has no truth", k)
	case step.Kind == exam.KindCount && slip.byEar:
		s.countByEar(step)
	case step.Kind == exam.KindCount:
		s.count(step, slip)
	case step.Kind == exam.KindTime:
		s.time(step)
	case step.Kind == exam.KindWeight:
		s.press("1")
		s.write(notation.FormatNumber(v.Number.Value, 1) + "kg")
	case step.ID == "pain.grimace":
		s.choose(step, v)
	case step.Kind == exam.KindEvent:
		s.event(k)
	case step.Kind == exam.KindNumber:
		s.pass(15)
		require.True(s.t, s.reads("beep: "+v.Number.Text(1)), s.view())
		s.write(notation.FormatNumber(v.Number.Value, 1) + "C")
	default:
		s.choose(step, v)
	}
}

// event reads the time off the card at the door, or that there is none yet.
func (s *stage) event(k exam.Key) {
	if clock := regexp.MustCompile(`\d\d:\d\d`).FindString(s.horse.Look(k, 0).Words); clock != "" {
		s.write(clock)
		return
	}
	s.press("end", "enter")
}

// question waits for the moment of danger at a place and chooses.
func (s *stage) question(k exam.Key, slip slips) {
	s.t.Helper()
	for {
		m, ok := s.horse.MomentAt(k, s.stored())
		if !ok {
			return
		}
		s.pass(m.AfterS + 1)
		require.True(s.t, s.reads(m.Happens), "%s\n%s", m.Happens, s.view())
		i := slices.IndexFunc(m.Options, func(o rehearse.Option) bool { return o.Safe == (m.Place != slip.unsafe) })
		s.press(fmt.Sprint(i + 1))
		if m.Place == slip.unsafe {
			require.True(s.t, s.reads("Not safe. "+m.Why), s.view())
			s.press("enter")
		}
	}
}

func (s *stage) choose(step exam.Step, v exam.Value) {
	s.t.Helper()
	list := step.Choices
	index := func(key string) int {
		return slices.IndexFunc(list, func(c exam.Choice) bool { return c.Key == key })
	}
	if step.ID == "pain.grimace" {
		for _, part := range step.Parts.List {
			s.press(notation.FormatNumber(v.Parts[part.Key], 0))
		}
		return
	}
	if step.Kind == exam.KindScale {
		i := slices.IndexFunc(list, func(c exam.Choice) bool { return v.Number != nil && c.Score == v.Number.Value })
		require.GreaterOrEqual(s.t, i, 0, step.ID)
		s.press("home")
		s.press(slices.Repeat([]string{"down"}, i)...)
		s.press("enter")
		return
	}
	for _, key := range v.Words {
		s.press("home")
		s.press(slices.Repeat([]string{"down"}, index(key))...)
		if step.Kind == exam.KindMarks {
			s.press("space")
		}
	}
	s.press("enter")
}

func (s *stage) events(step exam.Step, from, to float64) []float64 {
	if step.Heard == "breath" {
		return s.horse.Breaths(from, to)
	}
	return s.horse.Beats(from, to)
}

// count taps as the beat is drawn, 68 s of the heart or 70 s of the breath, with
// a practised hand's scatter.
func (s *stage) count(step exam.Step, slip slips) {
	s.t.Helper()
	window, hand := 68.0, 0.03
	if step.Heard == "breath" {
		window, hand = 70, 0.1
	}
	from := s.seconds() + 1
	beats := s.events(step, from, from+window)
	for i, b := range beats {
		at := b + min(max(hand*s.rng.NormFloat64(), -2*hand), 2*hand)
		if i == 0 {
			at = b
		}
		if slip.tapFactor > 0 && step.Heard != "breath" {
			at = beats[0] + (b-beats[0])/slip.tapFactor
		}
		s.until(s.at(at))
		s.tap("space")
	}
	s.press("enter")
	for strings.Contains(s.view(), "missed") || strings.Contains(s.view(), "Were both sounds") {
		s.press("2", "enter", "enter") // the heart paused; it was as tapped
	}
	s.press("enter") // where the rate was unlikely
}

// countByEar counts 60 s from a beat.
func (s *stage) countByEar(step exam.Step) {
	s.press("t", "3", "enter")
	from := s.seconds() + 1
	first := s.events(step, from, from+20)[0]
	s.until(s.at(first))
	s.tap("space")
	s.pass(60.5)
	s.write(fmt.Sprint(len(s.events(step, first, first+60)) - 1))
	if s.reads("Enter again keeps this count") {
		s.press("enter")
	}
}

// time presses as the thumb is lifted and as the colour is back, three times.
func (s *stage) time(step exam.Step) {
	s.t.Helper()
	for trial := range 3 {
		s.press("space")
		began := s.now
		ev := s.horse.Look(exam.Key{Step: step.ID}, trial).Events
		require.True(s.t, s.reads(ev[0].Words), s.view())
		s.until(began.Add(time.Duration(ev[1].AfterS*1e9) - 10*time.Millisecond))
		require.False(s.t, s.reads(ev[1].Words), s.view())
		s.pass(0.02)
		require.True(s.t, s.reads(ev[1].Words), s.view())
		s.pass(0.05)
		s.tap("space")
	}
	s.press("enter")
}

// play answers every place in order, then closes the visit.
func (s *stage) play(slip slips) {
	s.t.Helper()
	for _, ask := range s.routine.For(s.horse.Class, s.deps.Steps).Asks {
		if ask.Step == slip.skip {
			s.press("tab")
			continue
		}
		for _, k := range ask.Keys() {
			before := s.stored()
			s.answer(k, slip)
			_, ok := s.stored().Finding(k)
			require.True(s.t, ok, "%v is not answered\n%s", k, s.view())
			require.Greater(s.t, s.stored().Entries, before.Entries)
		}
	}
}

func (s *stage) close() {
	s.press("f", "enter")
	require.True(s.t, s.stored().Closed(), s.view())
}

// handOff leads from the review to the page, reads it to somebody, and comes back.
func (s *stage) handOff() {
	s.t.Helper()
	s.press("p", "enter", "enter")
	require.True(s.t, s.reads("to whom"), s.view())
	require.Contains(s.t, s.view(), nav.RehearsalSign)
	s.line("Dr. Olga Sommer")
	s.press("ctrl+s")
	require.Len(s.t, s.stored().HandOffs, 1, s.view())
	s.press("esc")
	require.Contains(s.t, s.view(), "Review")
}
