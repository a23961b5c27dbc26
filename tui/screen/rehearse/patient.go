package rehearse

import (
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/rehearse"
	"loosebox/tui/keys"
	"loosebox/tui/nav"
)

// patient is the nav.Patient of a simulated horse. Its times are seconds since the visit was opened; ticks only trigger
// redrawing.
type patient struct {
	base   *nav.Deps // of the program, with the record
	deps   *nav.Deps // of the rehearsal
	horse  *rehearse.Horse
	visit  exam.Visit // its identity, opening and notes, with what was stored since
	modes  rehearse.Modes
	limitS float64 // of a drill; 0 for none

	here   bool
	place  exam.Key
	since  float64 // the look began
	seen   rehearse.Percept
	senses senses
	watch  watch
	scene  scene

	pending *rehearse.DangerMoment // that comes up at this place
	asks    *question
	praised praise
	again   bool // something was answered: look at once

	thinking bool // the clock runs while no place is examined

	run     int // of the ticks: one of an earlier look does nothing
	beat    float64
	hearing hearing
	playing playing
}

// watch is the time step under way: events come so long after the letting go.
type watch struct {
	starts  map[exam.Key][]time.Time // of every trial so far
	began   float64
	running bool
	shown   bool // there is a trial to show
}

func newPatient(base, d *nav.Deps, h *rehearse.Horse, v exam.Visit) *patient {
	limit := 0.0
	if r, ok := rehearse.Drill(v.Routine, d.Steps, base.Routines); ok {
		limit = h.LimitS(r)
	}
	return &patient{
		limitS: limit, base: base, deps: d, horse: h, visit: v, modes: rehearse.ModesIn(v), watch: watch{starts: map[exam.Key][]time.Time{}},
		hearing: hearingOf(d.Settings.Rehearsal), senses: senses{total: rehearse.SensedIn(v, 0)},
	}
}

// seconds are those from the opening of the visit to a moment.
func (p *patient) seconds(at time.Time) float64 { return at.Sub(p.visit.OpenedAt).Seconds() }

func (p *patient) now() float64 { return p.seconds(p.deps.Now()) }

// Come looks at a place anew.
func (p *patient) Come(k exam.Key) tea.Cmd {
	if p.here && k == p.place {
		return nil
	}
	p.Leave()
	p.here, p.place, p.since = true, k, p.now()
	p.seen = p.horse.Look(k, len(p.watch.starts[k]))
	p.watch.running, p.watch.shown, p.beat = false, false, p.since
	p.expect()
	if step, _ := p.deps.Steps.ByID(k.Step); step.Kind != exam.KindTime {
		p.senses.begin(k, p.since)
	}
	return tea.Batch(p.look(), p.play())
}

// Leave ends what sounds and what is asked; a question comes again with its place.
func (p *patient) Leave() {
	p.senses.end(p.now())
	p.here, p.asks = false, nil
	p.run++
	p.playing.end()
}

// Timing begins a trial of a time step at each new start; a start that is there
// already is the same trial, taken up again.
func (p *patient) Timing(began time.Time, running bool) tea.Cmd {
	p.watch.running = running
	step, _ := p.deps.Steps.ByID(p.place.Step)
	if step.Kind != exam.KindTime || !p.here || began.IsZero() {
		return nil
	}
	trial := p.trial(began)
	p.seen = p.horse.Look(p.place, trial)
	p.watch.began, p.watch.shown = p.seconds(began), true
	p.senses.begin(p.place, p.watch.began)
	return p.look()
}

func (p *patient) trial(began time.Time) int {
	starts := p.watch.starts[p.place]
	for i, at := range starts {
		if at.Equal(began) {
			return i
		}
	}
	p.watch.starts[p.place] = append(starts, began)
	return len(starts)
}

// lookMsg says that something may have changed.
type lookMsg struct {
	of  *patient
	run int
}

// Update takes the ticks and the sounds that began or ended. It is called for
// every other message as well, after the screen has dealt with it.
func (p *patient) Update(msg tea.Msg) tea.Cmd {
	switch m := msg.(type) {
	case lookMsg:
		if m.of == p && m.run == p.run && p.here {
			return p.look()
		}
	case thinkMsg:
		if m.of == p {
			p.thinking = false
		}
	case playingMsg:
		return p.playOn(m)
	case overMsg:
		if m.of == p && m.run == p.playing.now() {
			return p.play()
		}
	}
	if p.again && p.here {
		return p.look()
	}
	return p.think()
}

// thinkMsg says that another second has passed while nobody stood at the horse.
type thinkMsg struct{ of *patient }

// think keeps the clock of a timed rehearsal running while one thinks what comes next.
func (p *patient) think() tea.Cmd {
	if p.here || !p.modes.Timed {
		return nil
	}
	p.scene.total, p.scene.step = int(p.now()), 0
	if p.thinking {
		return nil
	}
	p.thinking = true
	return p.deps.Later(time.Second, thinkMsg{p})
}

// look takes in what is to be seen and heard now, opens a question that is due,
// and asks to be called when something changes.
func (p *patient) look() tea.Cmd {
	now := p.now()
	p.again = false
	next := p.take(now)
	p.due(now, next)
	p.run++
	var cmds []tea.Cmd
	if p.scene.beat > p.beat {
		p.beat = p.scene.beat
		if p.hearing == bell {
			cmds = append(cmds, p.deps.Ring())
		}
	}
	if wait, ok := next.wait(); ok {
		cmds = append(cmds, p.deps.Later(wait, lookMsg{p, p.run}))
	}
	return tea.Batch(cmds...)
}

// Command switches the sound.
func (p *patient) Command(press keys.Press) (tea.Cmd, bool) {
	if !keys.Listen().Is(press) {
		return nil, false
	}
	p.hearing = p.hearing.next(p.deps.Player != nil)
	return p.play(), true
}

// Before stands the beginning of a count before the count. A question that is
// due at the place comes first, however quick the answer was.
func (p *patient) Before(k exam.Key, began time.Time) ([]exam.Entry, bool) {
	if p.pending != nil && p.here {
		p.ask()
		return nil, false
	}
	step, _ := p.deps.Steps.ByID(k.Step)
	out := p.sensed(step, k)
	if step.Kind == exam.KindCount && !began.IsZero() {
		out = append(out, rehearse.ClockEntry(k, p.seconds(began)))
	}
	return out, true
}

// Stored keeps what the rehearsal itself wrote, and says what a choice was worth.
func (p *patient) Stored(e exam.Entry) {
	if e.Kind != exam.EntryNote || !rehearse.IsOwnNote(e.Note) {
		return
	}
	p.visit.Notes = append(p.visit.Notes, exam.VisitNote{Text: e.Note, Step: e.Step, Site: e.Site, At: e.At, By: e.By, Seq: e.Seq})
	p.expect()
	p.again = true
	if p.asks != nil && p.asks.chosen != nil {
		p.tell()
	}
}

// Blind says that neither order nor how is shown.
func (p *patient) Blind() bool { return p.modes.Blind }

// OnlyOrder says that nothing is examined: only what comes next is chosen.
func (p *patient) OnlyOrder() bool { return p.visit.Routine == rehearse.OrderDrill }

// Closing says how many places were left, so that they are marked as missed.
func (p *patient) Closing(left int) []exam.Entry {
	if left == 0 {
		return nil
	}
	return []exam.Entry{rehearse.LeftEntry(left)}
}

// Closed leads to the marks.
func (p *patient) Closed() tea.Cmd {
	p.Leave()
	return tea.Sequence(nav.ToHome(), nav.Go(nav.Address{Screen: nav.Marks, Visit: p.visit.ID, With: p.deps}))
}
