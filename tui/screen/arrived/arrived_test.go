package arrived_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"loosebox/exam"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/arrived"
	"loosebox/tui/screentest"
)

func open(t *testing.T, size layout.Size) (*screentest.Driver, exam.Visit) {
	deps, store := screentest.Deps(t)
	screentest.Yard(t, store)
	v := screentest.Open(t, store)
	deps.Arrived = func(since time.Time) ([]exam.Arrival, error) {
		assert.Equal(t, screentest.Now().AddDate(0, 0, -1).Format(time.DateOnly), since.Format(time.DateOnly))
		return []exam.Arrival{{Visit: v.ID, At: screentest.Now()}, {Visit: "nobody"}}, nil
	}
	return screentest.New(t, deps, arrived.New, nav.Address{Screen: nav.Arrived}, size), v
}

func TestWhatArrivedIsDrawnInEverySize(t *testing.T) {
	screentest.Goldens(t, "arrived", func(t *testing.T, size layout.Size) *screentest.Driver {
		d, _ := open(t, size)
		return d
	})
}

func TestWhatArrivedLeadsToItsReview(t *testing.T) {
	d, v := open(t, layout.Size{W: 80, H: 24})
	d.Press("enter")
	assert.Equal(t, []any{nav.Review, v.ID}, []any{d.Last().Screen, d.Last().Visit})
}
