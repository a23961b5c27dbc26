package practice_test

import (
	"errors"
	"math/rand/v2"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat"

	"loosebox/exam"
	"loosebox/exam/examtest"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/practice"
	"loosebox/tui/screentest"
)

// bench is a practice with a clock that the test moves; a tick comes when the
// clock reaches it, later by what slow says of it.
type bench struct {
	*screentest.Driver
	deps  *nav.Deps
	store *examtest.Store
	now   time.Time
	begun time.Time // of the pulse: the press that started it
	due   time.Time
	tick  tea.Msg
	slow  func(tick int) time.Duration
	ticks int
	rung  int
}

func open(t testing.TB, size layout.Size) *bench {
	t.Helper()
	b := &bench{now: screentest.Now()}
	b.deps, b.store = screentest.Deps(t)
	b.deps.Now = func() time.Time { return b.now }
	b.deps.After = func(d time.Duration, msg tea.Msg) tea.Cmd {
		b.due, b.tick = b.now.Add(d), msg
		return nil
	}
	b.deps.Bell = func() tea.Msg { b.rung++; return nil }
	b.Driver = screentest.New(t, b.deps, practice.New, nav.Address{Screen: nav.Practice}, size)
	return b
}

// to lets the clock run to so many seconds after the pulse was asked for.
func (b *bench) to(s float64) {
	at := b.begun.Add(time.Duration(s * 1e9))
	for b.tick != nil && !b.due.After(at) {
		msg := b.tick
		b.tick, b.now = nil, b.due
		if b.slow != nil {
			b.now = b.now.Add(b.slow(b.ticks))
		}
		b.ticks++
		b.Send(msg)
	}
	b.now = at
}

func (b *bench) start() {
	b.Press("enter")
	b.begun = b.now
}

// taps presses space near beats 0, 1, 2 ..; beat k is period·(k+1) after the start.
func (b *bench) taps(space string, period float64, off []float64) {
	for k, o := range off {
		b.to(period*float64(k+1) + o)
		b.Send(screentest.Key(space))
	}
}

// strays are the offsets of 32 taps: two reactions, then 30 of a known scatter.
func strays(seed uint64, sigma, bias float64) []float64 {
	r := rand.New(rand.NewPCG(seed, 1))
	off := []float64{0.22, 0.1}
	for range 30 {
		off = append(off, bias+sigma*r.NormFloat64())
	}
	return off
}

func (b *bench) scatter(t *testing.T, person string) exam.Scatter {
	t.Helper()
	s, err := b.store.Settings()
	require.NoError(t, err)
	return s.Scatter[person]
}

func TestPracticeIsDrawnInEverySize(t *testing.T) {
	screentest.Goldens(t, "practice", func(t *testing.T, size layout.Size) *screentest.Driver {
		return open(t, size).Driver
	})
	screentest.Goldens(t, "practice-beat", func(t *testing.T, size layout.Size) *screentest.Driver {
		b := open(t, size)
		b.start()
		b.taps("space", 1.5, strays(1, 0.04, -0.03)[:9])
		b.to(1.5*10 + 0.1)
		return b.Driver
	})
	screentest.Goldens(t, "practice-result", func(t *testing.T, size layout.Size) *screentest.Driver {
		b := open(t, size)
		b.start()
		b.taps("space", 1.5, strays(1, 0.04, -0.03))
		return b.Driver
	})
}

// The scatter and the bias of the practice are those of the taps, as gonum has them.
func TestAKnownScatterIsGivenBack(t *testing.T) {
	for i, c := range []struct {
		digit        string
		period       float64
		sigma, bias  float64
		space, shown string
	}{
		{"32", 1.875, 0.08, 0.01, "space", "32 /min"},
		{"40", 1.5, 0.04, -0.03, "windows space", "40 /min"},
		{"60", 1, 0.02, -0.05, "space", "60 /min"},
	} {
		b := open(t, layout.Size{W: 80, H: 24})
		off := strays(uint64(i), c.sigma, c.bias)
		b.Type(c.digit)
		b.start()
		b.taps(c.space, c.period, off)
		require.True(t, b.Shows("enter saves it for Ann Bell"), b.View())
		assert.True(t, b.Shows("error ± 13 %"), "1/√(2·30)")
		assert.True(t, b.Shows("after 30 s at "+c.shown))
		assert.Empty(t, b.scatter(t, "Ann Bell"), "k saves it as yours")
		b.Press("enter")
		kept := b.scatter(t, "Ann Bell")
		assert.InDelta(t, stat.StdDev(off[2:], nil), kept.SigmaS, 1e-7)
		assert.InDelta(t, c.sigma, kept.SigmaS, 0.4*c.sigma, "three standard errors of 30 taps")
		assert.Equal(t, 30, kept.Taps)
		assert.True(t, b.now.Equal(kept.At))
		assert.Equal(t, kept.SigmaS, b.deps.Settings.Scatter["Ann Bell"].SigmaS, "the next count knows it")
		assert.True(t, b.Shows("saved for Ann Bell"))
		b.Press("esc")
		assert.True(t, b.Left())
	}
}

func TestThePulseDoesNotDrift(t *testing.T) {
	b := open(t, layout.Size{W: 80, H: 24})
	b.slow = func(tick int) time.Duration { return time.Duration(3+tick%7) * time.Millisecond }
	b.start()
	for k := range 20 {
		beat := 1.5 * float64(k+1)
		b.to(beat - 0.01)
		assert.False(t, b.Shows("█"), "beat %d", k)
		assert.Equal(t, b.begun.Add(time.Duration(beat*1e9)), b.due, "every beat is due from the start, however late the ticks before it were")
		b.to(beat + 0.05)
		assert.True(t, b.Shows("█"), "beat %d", k)
		b.Send(screentest.Key("space"))
		b.to(beat + 0.3)
		assert.False(t, b.Shows("█"), "beat %d", k)
		assert.Equal(t, k+1, b.rung, "the bell rings once a beat")
	}
}

func TestSilentPractice(t *testing.T) {
	b := open(t, layout.Size{W: 80, H: 24})
	b.deps.Settings.Silent = true
	b.start()
	b.taps("space", 1.5, strays(1, 0.04, 0))
	assert.Zero(t, b.rung)
}

// A held space is one tap: its repeats come every 30 ms after half a second.
func TestAHeldKeyCountsOnce(t *testing.T) {
	for _, space := range []string{"space", "windows space"} {
		b := open(t, layout.Size{W: 80, H: 24})
		b.start()
		b.to(1.5)
		b.Send(screentest.Key(space))
		for s := 2.0; s < 12; s += 0.03 {
			b.to(s)
			b.Send(screentest.Key(space))
		}
		assert.True(t, b.Shows("warm-up 1 of 2"), b.View())
		assert.True(t, b.Shows("a held key counts once"))
		off := strays(2, 0.04, 0)
		for k := 8; k < 8+31; k++ {
			b.to(1.5*float64(k+1) + off[k-7])
			b.Send(screentest.Key(space))
		}
		assert.True(t, b.Shows("presses of a held key not counted"), b.View())
		assert.True(t, b.Shows("beats without a tap: 7"), b.View())
	}
}

func TestWhatIsNotKept(t *testing.T) {
	for name, c := range map[string]struct {
		sigma float64
		slow  func(int) time.Duration
		who   string
		said  string
	}{
		"a machine that was late": {0.04, func(tick int) time.Duration {
			if tick == 20 {
				return 150 * time.Millisecond
			}
			return 2 * time.Millisecond
		}, "Ann Bell", "up to 150 ms late"},
		"a script":  {0.001, nil, "Ann Bell", "steadier than screen and keyboard"},
		"no pulse":  {0.3, nil, "Ann Bell", "these taps do not match the pulse; not saved"},
		"no person": {0.04, nil, "", "no name is set"},
	} {
		t.Run(name, func(t *testing.T) {
			b := open(t, layout.Size{W: 80, H: 24})
			b.slow, b.deps.Settings.Person = c.slow, c.who
			b.start()
			b.taps("space", 1.5, strays(3, c.sigma, 0))
			assert.True(t, b.Shows(c.said), b.View())
			b.Press("enter")
			s, err := b.store.Settings()
			require.NoError(t, err)
			assert.Empty(t, s.Scatter)
			assert.Zero(t, b.store.Writes())
			b.Press("n")
			assert.True(t, b.Shows("A block shows a steady pulse"), "one n is enough where nothing is lost")
		})
	}
}

func TestThePulseStopsWhereNobodyTaps(t *testing.T) {
	b := open(t, layout.Size{W: 80, H: 24})
	b.start()
	b.taps("space", 1.5, []float64{0, 0, 0})
	b.to(60)
	assert.True(t, b.Shows("the pulse stopped: no tap for 8 beats"))
	assert.Nil(t, b.tick, "nothing ticks any more")
	b.Press("space")
	assert.True(t, b.Shows("enter starts the pulse"))
}

func TestEscAsksBeforeTapsAreLost(t *testing.T) {
	b := open(t, layout.Size{W: 80, H: 24})
	b.start()
	b.Press("esc")
	assert.True(t, b.Shows("A block shows"), "nothing was tapped yet")
	stale := b.tick
	b.start()
	b.Send(stale)
	assert.Zero(t, b.rung, "a tick of the pulse before does nothing")
	b.taps("space", 1.5, strays(1, 0.04, 0)[:5])
	b.Press("esc")
	assert.True(t, b.Shows("esc again stops"))
	b.taps("space", 1.5, []float64{}) // the pulse goes on
	b.to(1.5 * 6)
	b.Press("space", "esc")
	assert.True(t, b.Shows("esc again stops"), "a tap took the question back")
	b.Press("esc")
	assert.True(t, b.Shows("A block shows"))
	assert.False(t, b.Left())

	b = open(t, layout.Size{W: 80, H: 24})
	b.start()
	b.taps("space", 1.5, strays(1, 0.04, 0))
	b.Press("esc")
	assert.True(t, b.Shows("esc again leaves without saving this"))
	b.Press("n")
	assert.True(t, b.Shows("not saved: n again discards it, enter saves"))
	b.Press("enter")
	assert.NotZero(t, b.scatter(t, "Ann Bell").SigmaS)
	b.Press("enter")
	assert.Equal(t, 1, b.store.Writes(), "once is enough")
	b.Press("n")
	assert.True(t, b.Shows("saved now: your taps vary by"))
}

func TestARefusedScatterCanBeKeptAgain(t *testing.T) {
	b := open(t, layout.Size{W: 80, H: 24})
	b.deps.Settings.Scatter = map[string]exam.Scatter{"Bo Lind": {SigmaS: 0.05, Taps: 30}, "Ann Bell": {SigmaS: 0.06, Taps: 30, At: b.now}}
	shared := b.deps.Settings.Scatter
	b.start()
	b.taps("space", 1.5, strays(1, 0.04, 0))
	assert.True(t, b.Shows("replaces your taps vary by 60 ms"))
	b.store.FailWith(errors.New("the disk is full"))
	b.Press("enter")
	assert.True(t, b.Shows("this accuracy is NOT saved"))
	b.store.FailWith(nil)
	b.Press("enter")
	assert.InDelta(t, 0.05, b.scatter(t, "Bo Lind").SigmaS, 0, "everybody else's stays")
	assert.InDelta(t, 0.06, shared["Ann Bell"].SigmaS, 0, "what others hold is not written into")
}

func TestHostileText(t *testing.T) {
	for _, text := range screentest.Hostile() {
		for _, size := range screentest.Sizes() {
			b := open(t, size)
			b.deps.Settings = exam.Settings{Person: text, Scatter: map[string]exam.Scatter{text: {SigmaS: 1e300, Taps: -1}}}
			b.View()
			b.start()
			b.taps("space", 1.5, strays(1, 0.04, 0))
			b.View()
			b.Squeeze()
			b.Press("enter", "n")
			b.View()
		}
	}
}

func BenchmarkView(b *testing.B) {
	p := open(b, layout.Size{W: 120, H: 40})
	p.start()
	p.taps("space", 1.5, strays(1, 0.04, 0))
	for b.Loop() {
		_ = p.Screen().View(layout.Size{W: 200, H: 60})
	}
}

// One tap's work near the end of a practice.
func BenchmarkTap(b *testing.B) {
	p := open(b, layout.Size{W: 120, H: 40})
	p.start()
	p.taps("space", 1.5, strays(1, 0.04, 0)[:31])
	press := screentest.Press1("space", p.now.Add(10*time.Millisecond)) // too soon: it is looked at and dropped
	for b.Loop() {
		p.Screen().Update(press)
	}
}
