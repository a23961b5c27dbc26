package main

import (
	"io"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/storage"
	"loosebox/tui"
	"loosebox/tui/nav"
	"loosebox/tui/screentest"
)

// counter plays the whole program with keys on a record of its own, with a clock that stands still but where it waits: what
// it counts are the keys of a person, not the speed of a machine.
type counter struct {
	t     *testing.T
	model *tui.Keyboard
	store *storage.Record
	now   time.Time
	later []laterMsg
	keys  int // without taps
	taps  int // of the space bar
	table *exam.Steps
}

type laterMsg struct {
	at  time.Time
	msg tea.Msg
}

// sitDown opens the program at a horse.
func sitDown(t *testing.T, h exam.Horse) *counter {
	t.Helper()
	dir := t.TempDir()
	p := &counter{t: t, now: time.Date(2026, 3, 2, 9, 0, 0, 0, time.FixedZone("", 3600))}
	e := &env{dir: dir, now: func() time.Time { return p.now }, lookup: utf8Only, errOut: io.Discard}
	require.NoError(t, e.tables())
	r, err := storage.Open(filepath.Join(dir, "record"), storage.Options{})
	require.NoError(t, err)
	t.Cleanup(func() { assert.NoError(t, r.Close()) })
	require.NoError(t, r.SaveSettings(exam.Settings{Person: "Ann Bell"}))
	h.Revision, h.Name = 1, "Clover"
	h, err = r.SaveHorse(h, "Ann Bell", p.now)
	require.NoError(t, err)
	deps, err := e.deps(r)
	require.NoError(t, err)
	deps.Bell = nil
	deps.After = func(d time.Duration, msg tea.Msg) tea.Cmd {
		p.later = append(p.later, laterMsg{p.now.Add(d), msg})
		return nil
	}
	p.store, p.table = r, e.steps
	p.model = tui.NewKeyboard(tui.New(deps, tui.Screens(), nav.Address{Screen: nav.Home}, nav.Address{Screen: nav.Horse, Horse: h.ID}))
	p.send(tea.WindowSizeMsg{Width: 80, Height: 24})
	p.run(p.model.Init())
	return p
}

// utf8Only is an environment that says nothing but that the terminal takes UTF-8.
func utf8Only(name string) string {
	if name == "LANG" {
		return "C.UTF-8"
	}
	return ""
}

func (p *counter) send(msg tea.Msg) {
	_, cmd := p.model.Update(msg)
	p.run(cmd)
}

func (p *counter) run(cmd tea.Cmd) { screentest.Run(cmd, p.send) }

// pass lets time go by.
func (p *counter) pass(d time.Duration) {
	end := p.now.Add(d)
	for {
		slices.SortStableFunc(p.later, func(a, b laterMsg) int { return a.at.Compare(b.at) })
		if len(p.later) == 0 || p.later[0].at.After(end) {
			break
		}
		next := p.later[0]
		p.later = p.later[1:]
		if next.at.After(p.now) {
			p.now = next.at
		}
		p.send(next.msg)
	}
	p.now = end
}

// press presses keys as a hand does, three a second.
func (p *counter) press(names ...string) {
	for _, name := range names {
		p.keys++
		p.send(screentest.Key(name))
		p.pass(330 * time.Millisecond)
	}
}

// tap presses space n times with the same time between.
func (p *counter) tap(n int, every time.Duration) {
	for range n {
		p.taps++
		p.send(screentest.Key("space"))
		p.pass(every)
	}
}

func (p *counter) view() string { return ansi.Strip(p.model.View()) }

func (p *counter) sees(text string) {
	p.t.Helper()
	require.Contains(p.t, p.view(), text)
}

// step is what is asked now, by the heading at the right.
func (p *counter) step() exam.StepID {
	p.t.Helper()
	for _, line := range strings.Split(p.view(), "\n") {
		_, head, ok := strings.Cut(line, "│ ")
		if !ok {
			continue
		}
		head = strings.TrimSpace(head)
		for _, s := range p.table.All() {
			if head == s.Name || strings.HasPrefix(head, s.Name+", ") {
				return s.ID
			}
		}
		break
	}
	require.Failf(p.t, "no step is asked", "%s", p.view())
	return ""
}

// byStep are the keys of one step; typed letters are keys too.
type byStep map[exam.StepID]func(*counter)

func pressed(names ...string) func(*counter) { return func(p *counter) { p.press(names...) } }

func letterKeys(text string) func(*counter) {
	return func(p *counter) { p.press(append(strings.Split(text, ""), "enter")...) }
}

// allUsual is how a person answers for a healthy grown horse.
func allUsual() byStep {
	return byStep{
		"approach":        pressed("1", "enter"),
		"breath.rate":     func(p *counter) { p.tap(14, 4*time.Second); p.press("enter") },
		"heart.rate":      func(p *counter) { p.tap(14, 1600*time.Millisecond); p.press("enter") },
		"pain.grimace":    pressed("0", "0", "0", "0", "0", "0"),
		"temp.rectal":     letterKeys("37.8"),
		"weight.body":     pressed("3", "7", "6", "i", "n", "enter", "7", "6", "enter", "6", "7", "enter"), // girth twice and length
		"condition.score": pressed("5", "enter"),
		"neck.crest":      pressed("2", "enter"),
		"gum.refill":      func(p *counter) { p.tap(2, 1400*time.Millisecond); p.press("enter") },
		"skin.tent":       func(p *counter) { p.tap(2, 900*time.Millisecond); p.press("enter") },
		"note":            pressed("u", "enter"),
	}
}

// begin goes from the horse's page to the first question; routine is the number of the line, 0 for the one offered.
func (p *counter) begin(routine string) {
	p.t.Helper()
	p.press("b")
	p.sees("[begin the exam]")
	if routine != "" {
		p.press(routine)
	}
	p.press("ctrl+s", "u")
	p.sees(" 0 of ")
}

// exam answers every step with its own keys, or else with what is usual; what looks usual in an area is one key.
func (p *counter) exam(own byStep) {
	p.t.Helper()
	for range 120 {
		if strings.HasPrefix(p.view(), "Review") {
			return
		}
		before := p.view()
		switch answer, ok := own[p.step()]; {
		case strings.Contains(before, "z rest looks usual"):
			p.press("z")
			p.sees("Saved in one go")
		case ok:
			answer(p)
		case strings.Contains(before, "a all usual"):
			p.press("a")
		default:
			p.press("u")
		}
		require.NotEqual(p.t, before, p.view(), "no key was of use:\n%s", before)
	}
	require.Fail(p.t, "the exam does not end", p.view())
}

// finish closes the visit from its review.
func (p *counter) finish() {
	p.t.Helper()
	p.press("f")
	if strings.Contains(p.view(), "For the veterinarian, and not handed off") {
		p.press("4", "enter") // it is handed off later
	}
	p.sees("enter closes the visit")
	p.press("enter")
	p.sees("closed ")
}

// visit is what the record holds of the horse's newest visit.
func (p *counter) visit() exam.Visit {
	p.t.Helper()
	list, err := p.store.Recent(1)
	require.NoError(p.t, err)
	require.Len(p.t, list, 1)
	return list[0]
}

func adultMare() exam.Horse {
	return exam.Horse{
		Kind: exam.AnimalHorse, Sex: exam.Mare, Birth: exam.Birth{At: time.Date(2017, 5, 4, 0, 0, 0, 0, time.UTC), Precision: exam.BornDay},
	}
}

func newFilly() exam.Horse {
	return exam.Horse{
		Kind: exam.AnimalHorse, Sex: exam.Filly, Birth: exam.Birth{At: time.Date(2026, 3, 2, 4, 0, 0, 0, time.FixedZone("", 3600)), Precision: exam.BornMinute},
	}
}

// TestKeysOfFourExams plays four exams from the horse's page to the closed visit and prints the keys of each; taps are
// counted apart. The keys before are those of the same counter at commit f03958d, with the keys that it had.
func TestKeysOfFourExams(t *testing.T) {
	colic := allUsual()
	colic["demeanour"] = pressed("4", "enter")                         // restless
	colic["pain.signs"] = pressed("7", "space", "8", "space", "enter") // looks at its flank, paws
	colic["gut.sounds"] = pressed("2", "enter")                        // reduced
	colic["heart.rate"] = func(p *counter) { p.tap(16, 1250*time.Millisecond); p.press("enter") }
	foal := allUsual()
	for _, id := range []exam.StepID{"foal.breast", "foal.suck", "foal.stand", "foal.nurse", "foal.afterbirth", "foal.meconium", "foal.urine"} {
		foal[id] = letterKeys("4:50")
	}
	foal["breath.rate"] = func(p *counter) { p.tap(30, 1500*time.Millisecond); p.press("enter") }
	foal["heart.rate"] = func(p *counter) { p.tap(30, 650*time.Millisecond); p.press("enter") }
	foal["temp.rectal"] = letterKeys("38.2")
	foal["weight.body"] = pressed("1", "5", "2", "enter")
	for _, c := range []struct {
		name, routine  string
		horse          exam.Horse
		own            byStep
		before, atMost int
		asked          int
	}{
		{"full exam, healthy", "", adultMare(), allUsual(), 82, 85, 59},
		{"five-minute check", "3", adultMare(), allUsual(), 0, 28, 17},
		{"early colic", "4", adultMare(), colic, 59, 59, 31},
		{"newborn foal", "", newFilly(), foal, 88, 88, 50},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := sitDown(t, c.horse)
			p.begin(c.routine)
			begun := p.keys
			p.exam(c.own)
			asked := p.keys - begun
			p.finish()
			v := p.visit()
			require.True(t, v.Closed())
			done := 0
			for _, f := range v.Findings {
				if f.Done() {
					done++
				}
			}
			t.Logf("%-20s %d answers: %d keys (begin %d, exam %d, close %d) and %d taps; before: %d keys",
				c.name, done, p.keys, begun, asked, p.keys-begun-asked, p.taps, c.before)
			assert.LessOrEqual(t, p.keys, c.atMost)
			if c.asked > 0 {
				assert.Equal(t, c.asked, done)
			}
			assert.Equal(t, done, len(v.Findings), "nothing was passed over")
		})
	}
}
