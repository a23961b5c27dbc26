package injection_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"loosebox/exam/procedure"
	"loosebox/exam/procedure/script"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/questions"
	"loosebox/tui/screentest"
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
			b.Press("m", "p", "d")
			return b
		}},
		{"site", func(t *testing.T, size layout.Size) *bench {
			b := ordered(t, size)
			b.Press("enter", "i", "b") // blood at the first
			return b
		}},
		{"needle", func(t *testing.T, size layout.Size) *bench {
			b := ordered(t, size)
			b.Press("enter")
			return b
		}},
		{"aspirate", func(t *testing.T, size layout.Size) *bench {
			b := ordered(t, size)
			b.Press("enter", "i")
			return b
		}},
		{"give", func(t *testing.T, size layout.Size) *bench {
			b := ordered(t, size)
			b.Press("enter", "i", "c")
			return b
		}},
		{"resume", func(t *testing.T, size layout.Size) *bench {
			b := ordered(t, size)
			b.Press("enter", "i")
			b.open(0, size)
			return b
		}},
		{"checks-second", func(t *testing.T, size layout.Size) *bench {
			b := sit(t, size, screentest.Tetanus())
			b.vaccine()
			b.Press("c", "p", "d", "n")
			b.Type("Eva Lind")
			return b
		}},
		{"checks-answered", func(t *testing.T, size layout.Size) *bench {
			b := sit(t, size, screentest.Tetanus())
			b.vaccine()
			b.Press(inOrder()...)
			return b
		}},
		{"stopped", func(t *testing.T, size layout.Size) *bench {
			b := ordered(t, size)
			b.Press("enter", "i", "x")
			return b
		}},
		{"stopped-amount", func(t *testing.T, size layout.Size) *bench {
			b := ordered(t, size)
			b.Press("enter", "i", "x", "m")
			return b
		}},
		{"amount", func(t *testing.T, size layout.Size) *bench {
			b := ordered(t, size)
			b.Press("enter", "i", "c", "a")
			return b
		}},
		{"done", func(t *testing.T, size layout.Size) *bench {
			b := ordered(t, size)
			b.Press("enter", "i", "c", "g")
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
	b.Press("i")
	b.Squeeze()
	b.Press("x")
	b.Squeeze()
	b.Press("esc", "c")
	b.Squeeze()
}

func BenchmarkView(b *testing.B) {
	deps, store := screentest.Deps(b)
	screentest.Yard(b, store)
	id := screentest.Open(b, store).ID
	screentest.Decide(b, store, id, screentest.Tetanus())
	d := screentest.New(b, deps, questions.Of(script.Injection), nav.Address{Visit: id}, wide())
	s := d.Screen()
	for b.Loop() {
		s.View(layout.Size{W: 80, H: 19})
	}
}

// The longest question of a vein is longer than a narrow window.
func TestNoQuestionIsCutInANarrowWindow(t *testing.T) {
	b := sit(t, layout.Size{W: 60, H: 20}, screentest.Calming())
	b.vein()
	for i, q := range procedure.VeinQuestions() {
		assert.True(t, b.Reads(q.Asks), "%s: %s", q.Asks, b.View())
		b.Press(script.InVein(i)[0].Press)
	}
	assert.True(t, b.Shows("[g] given: 1 mL, as ordered"), b.View())
}
