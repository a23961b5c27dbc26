package tui_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/due"
	"loosebox/exam/examtest"
	"loosebox/exam/round"
	"loosebox/exam/steps"
	"loosebox/tui"
	"loosebox/tui/nav"
	"loosebox/tui/screentest"
)

// trial is the whole program over a small record, with a clock that only moves when told, and a list of what is stored.
type trial struct {
	clocked
	t     testing.TB
	deps  *nav.Deps
	store *examtest.Store
	horse exam.Horse
	visit exam.VisitID
	to    nav.Address // where the program opens
	wrote []string
	used  bool       // something was stored since begin
	made  nav.Screen // the screen that was made last
}

// trials makes programs over records that are alike; ranges, steps and cases are read once.
type trials struct {
	t    testing.TB
	deps *nav.Deps
}

func newTrials(t testing.TB) *trials {
	deps, _ := screentest.Deps(t)
	deps.Steps, deps.Routines = steps.Table(), steps.Routines()
	deps.Cases = screentest.Cases(t, deps)
	table, _, err := deps.Schedule()
	require.NoError(t, err)
	deps.Schedule = func() (*due.Table, string, error) { return table, "", nil }
	return &trials{t, deps}
}

// begin is a program over the record that a row needs.
func (all *trials) begin(r heldRow) *trial {
	deps := *all.deps
	b := &trial{clocked: clocked{now: screentest.Now()}, t: all.t, deps: &deps, store: examtest.NewStore(), to: nav.Address{Screen: r.screen}}
	deps.Desk.Store, deps.Rehearsals, deps.Rounds = b.store, examtest.NewRehearsals(), new(round.Reader)
	deps.Now, deps.After = func() time.Time { return b.now }, b.after
	deps.KeepRoutine = func(exam.Routine) error { return b.say(nil, "a routine") }
	b.horse, b.visit = dullMare(all.t, b.store)
	b.to.Horse, b.to.Visit = b.horse.ID, b.visit
	for _, with := range r.with {
		with(b)
	}
	deps.Desk.Store, deps.Rehearsals = stored{deps.Desk.Store, b, ""}, stored{deps.Rehearsals, b, "rehearsal: "}
	return b
}

// dullMare is an invented mare, her chip and her open exam, which holds one finding for the veterinarian.
func dullMare(t testing.TB, s exam.Store) (exam.Horse, exam.VisitID) {
	t.Helper()
	h, err := s.SaveHorse(exam.Horse{Revision: 1, Name: "Bramble", Kind: exam.AnimalHorse, Sex: exam.Mare, Chip: chip, Owner: "P. Duarte", Cautions: []string{"kicks"}}, "Ann Bell", screentest.Now())
	require.NoError(t, err)
	v, err := s.Begin(exam.Entry{Kind: exam.EntryOpened, At: screentest.Now().Add(-time.Hour), By: "Ann Bell", Opening: &exam.Opening{Horse: h, Routine: steps.Default}})
	require.NoError(t, err)
	screentest.Fever(t, s, v.ID)
	return h, v.ID
}

// open opens the program at its screen, and brings it where a row wants it.
func (b *trial) open(r heldRow) {
	b.now, b.timers, b.quit = screentest.Now().Add(r.later), nil, false
	screens := tui.Screens()
	for name, maker := range screens {
		screens[name] = func(deps *nav.Deps, to nav.Address) nav.Screen {
			b.made = maker(deps, to)
			return b.made
		}
	}
	screens["below"] = func(*nav.Deps, nav.Address) nav.Screen { return &page{name: "below"} }
	b.model = tui.NewKeyboard(tui.New(b.deps, screens, nav.Address{Screen: "below"}, b.to))
	b.send(tea.WindowSizeMsg{Width: 80, Height: 24})
	b.run(b.model.Init())
	for _, key := range r.press {
		if text, types := strings.CutPrefix(key, "type "); types {
			b.types(text, 300*ms)
		} else {
			b.send(screentest.Key(key))
		}
		b.wait(3 * time.Second)
	}
	b.wrote = nil
}

// say adds what was stored to the list.
func (b *trial) say(err error, format string, args ...any) error {
	if err == nil {
		b.used = true
		b.wrote = append(b.wrote, fmt.Sprintf(format, args...))
	}
	return err
}

// said is what was stored, in the words of a line of heldRows.
func (b *trial) said() string {
	if n := len(b.wrote); n > 8 {
		return fmt.Sprintf("%d lines, the last: %s", n, b.wrote[n-1])
	}
	return strings.Join(b.wrote, ", ")
}

// shows reports whether a text is on the screen, over lines too.
func (b *trial) shows(text string) bool {
	return strings.Contains(strings.Join(strings.Fields(ansi.Strip(b.model.View())), " "), text)
}

// answered counts the points of a check list that have an answer; 0 on screens without one.
func (b *trial) answered() int {
	if b.to.Screen != nav.Injection && b.to.Screen != nav.Draw {
		return 0
	}
	return strings.Count(b.model.View(), b.deps.Theme.Sign.Done)
}

// keys are the keys of the screen that is shown, of its numbers the first, and those that every screen may have.
func (b *trial) keys() []string {
	list := strings.Fields("enter space ctrl+s up down tab backspace esc y")
	for _, b := range b.made.Keys() {
		for _, key := range b.Keys {
			if key == "1" || strings.Trim(key, "0123456789") != "" {
				list = append(list, strings.Fields(key)...) // the letters of several answers stand in one
			}
		}
	}
	slices.Sort(list)
	return slices.Compact(list)
}

// hold is a key that is held: a press, a pause, then 60 presses 30 ms apart.
func (b *trial) hold(key string, pause time.Duration) {
	press := screentest.Key(key)
	b.send(press)
	b.wait(pause)
	for range 60 {
		b.send(press)
		b.wait(30 * ms)
	}
	b.wait(3 * time.Second)
}

// scans types a line as a reader does, with a time between two keys.
func (b *trial) scans(line string, gap time.Duration) {
	b.types(line, gap)
	b.wait(3 * time.Second)
}

// pastes is a bracketed paste.
func (b *trial) pastes(text string) {
	b.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(text), Paste: true})
	b.wait(3 * time.Second)
}

// stored is a store that tells the trial in words what is stored.
type stored struct {
	exam.Store
	on   *trial
	kind string
}

func (s stored) say(err error, format string, args ...any) error {
	return s.on.say(err, s.kind+format, args...)
}

func (s stored) SaveHorse(h exam.Horse, by string, at time.Time) (exam.Horse, error) {
	out, err := s.Store.SaveHorse(h, by, at)
	if h.Revision > 1 {
		return out, s.say(err, "the horse changed")
	}
	return out, s.say(err, "a new horse")
}

func (s stored) Join(j exam.Joining) error { return s.say(s.Store.Join(j), "horses joined or parted") }

func (s stored) Begin(e exam.Entry) (exam.Visit, error) {
	v, err := s.Store.Begin(e)
	return v, s.say(err, "an exam begun")
}

func (s stored) Append(e exam.Entry, checks ...exam.Check) (exam.Entry, error) {
	out, err := s.Store.Append(e, checks...)
	return out, s.say(err, "%s", lineWords(e))
}

func (s stored) Strike(e exam.Entry, again exam.HorseID) (struck, entered exam.Visit, err error) {
	struck, entered, err = s.Store.Strike(e, again)
	return struck, entered, s.say(err, "a visit voided")
}

func (s stored) AddToRound(lines ...exam.RoundLine) error {
	return s.say(s.Store.AddToRound(lines...), "%d of the round: %s", len(lines), lines[0].Act)
}

func (s stored) SaveSettings(set exam.Settings) error {
	return s.say(s.Store.SaveSettings(set), "a setting of this laptop")
}

func (s stored) SaveSetting(set exam.Setting) error {
	return s.say(s.Store.SaveSetting(set), "a setting of the practice")
}

// lineWords says what a line is, and of a procedure how far it came.
func lineWords(e exam.Entry) string {
	switch {
	case e.Injection != nil:
		return "injection " + string(e.Injection.Phase)
	case e.Draw != nil:
		return "draw " + string(e.Draw.Phase)
	case e.Watch != nil:
		return "watch " + string(e.Watch.Phase)
	case e.Step != "":
		return string(e.Kind) + " " + string(e.Step)
	}
	return string(e.Kind)
}
