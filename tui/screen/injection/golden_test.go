package injection_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"loosebox/exam/procedure"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/injection"
	"loosebox/tui/screen/screentest"
)

func TestGoldens(t *testing.T) {
	for _, c := range []struct {
		name string
		make func(t *testing.T, size layout.Size) *bench
	}{
		{"locked", func(t *testing.T, size layout.Size) *bench { return sit(t, size) }},
		{"order", func(t *testing.T, size layout.Size) *bench {
			b := sit(t, size, screentest.Tetanus())
			b.line("LT-4471")
			b.Type("02/27")
			return b
		}},
		{"volume", func(t *testing.T, size layout.Size) *bench {
			c := screentest.Calming()
			c.Route, c.Dose = "IM", "2.2 mg/kg"
			b := sit(t, size, c)
			b.Press("down", "down", "down")
			b.line("50 mg/mL")
			b.Press("down", "down")
			b.line("545kg")
			b.Press("enter") // the proposed syringe
			return b
		}},
		{"checks", func(t *testing.T, size layout.Size) *bench {
			b := sit(t, size, screentest.Tetanus())
			b.vaccine()
			b.Press("2", "enter", "enter")
			return b
		}},
		{"site", func(t *testing.T, size layout.Size) *bench {
			b := ordered(t, size)
			b.Press("enter", "enter", "2", "enter") // blood at the first
			return b
		}},
		{"needle", func(t *testing.T, size layout.Size) *bench {
			b := ordered(t, size)
			b.Press("enter")
			return b
		}},
		{"aspirate", func(t *testing.T, size layout.Size) *bench {
			b := ordered(t, size)
			b.Press("enter", "enter", "2")
			return b
		}},
		{"give", func(t *testing.T, size layout.Size) *bench {
			b := ordered(t, size)
			b.Press("enter", "enter", "1", "enter")
			return b
		}},
		{"resume", func(t *testing.T, size layout.Size) *bench {
			b := ordered(t, size)
			b.Press("enter", "enter")
			b.open(0, size)
			return b
		}},
		{"done", func(t *testing.T, size layout.Size) *bench {
			b := ordered(t, size)
			b.Press("enter", "enter", "1", "enter", "enter")
			return b
		}},
	} {
		screentest.Goldens(t, "injection-"+c.name, func(t *testing.T, size layout.Size) *screentest.Driver { return c.make(t, size).Driver })
	}
}

// ordered is an injection whose order and check list are written down.
func ordered(t *testing.T, size layout.Size) *bench {
	b := sit(t, size, screentest.Tetanus())
	b.vaccine()
	b.checks()
	return b
}

func TestSqueezed(t *testing.T) {
	b := ordered(t, wide())
	b.Squeeze()
	b.Press("enter")
	b.Squeeze()
	b.Press("enter")
	b.Squeeze()
	b.Press("1", "enter")
	b.Squeeze()
}

func BenchmarkView(b *testing.B) {
	deps, store := screentest.Deps(b)
	screentest.Yard(b, store)
	id := screentest.Open(b, store).ID
	screentest.Decide(b, store, id, screentest.Tetanus())
	d := screentest.New(b, deps, injection.New, nav.Address{Visit: id}, wide())
	s := d.Screen()
	for b.Loop() {
		s.View(layout.Size{W: 80, H: 19})
	}
}

// The longest question of a vein is longer than a narrow window.
func TestNoQuestionIsCutInANarrowWindow(t *testing.T) {
	b := sit(t, layout.Size{W: 60, H: 20}, screentest.Calming())
	b.vein()
	for _, q := range procedure.VeinQuestions() {
		assert.True(t, b.Reads(q.Asks), "%s: %s", q.Asks, b.View())
		b.Press("1", "enter")
	}
	assert.True(t, b.Shows("[given: write it down]"), b.View())
}
