package chart

import (
	"strings"
	"time"

	"loosebox/exam/notation"
	"loosebox/tui/layout"
	"loosebox/tui/theme"
)

// LongGap is the time without a visit from which the axis is broken and no line is drawn.
const LongGap = 365 * 24 * time.Hour

// brokenShare is the width of a long gap as a share of the width of all other time.
const brokenShare = 0.12

// Times is moments, oldest first, each with its column on an axis of a width; no two share one where the width allows.
type Times struct {
	at     []time.Time
	cols   []int
	width  int
	broken []bool // the gap before the moment is longer than it is drawn
}

// NewTimes places moments, oldest first, on an axis of width columns.
func NewTimes(at []time.Time, width int) Times {
	out := Times{at: at, cols: make([]int, len(at)), width: width, broken: make([]bool, len(at))}
	if len(at) < 2 || width < 2 {
		for i := range out.cols {
			out.cols[i] = max(width/2, 0)
		}
		return out
	}
	var whole time.Duration
	for i := 1; i < len(at); i++ {
		gap := at[i].Sub(at[i-1])
		if out.broken[i] = gap > LongGap && len(at) > 2; !out.broken[i] {
			whole += gap
		}
	}
	cut := max(time.Duration(float64(whole)*brokenShare), time.Hour)
	spans, sum := make([]float64, len(at)), 0.0
	for i := 1; i < len(at); i++ {
		spans[i] = float64(at[i].Sub(at[i-1]))
		if out.broken[i] {
			spans[i] = float64(cut)
		}
		sum += spans[i]
	}
	done := 0.0
	for i := range at {
		done += spans[i]
		if sum > 0 {
			out.cols[i] = int(done/sum*float64(width-1) + 0.5)
		}
	}
	out.part()
	return out
}

// part moves moments that share a column, or lie side by side, apart: by two cells, or one where there is no room for two.
func (x Times) part() {
	least := 2
	if least*(len(x.at)-1) > x.width-1 {
		least = 1
	}
	if len(x.at) > x.width {
		return
	}
	for i := 1; i < len(x.cols); i++ {
		x.cols[i] = max(x.cols[i], x.cols[i-1]+least)
	}
	last := x.width - 1
	for i := len(x.cols) - 1; i >= 0; i-- {
		x.cols[i] = min(x.cols[i], last)
		last = x.cols[i] - least
	}
}

// Column is the column of the moment with index i.
func (x Times) Column(i int) int { return x.cols[i] }

// Axis is the two lines under a plot. Rule has a mark under each moment, a break in gaps that are drawn short, and the
// cursor under the moment with that index (-1 for none). Days has the dates that fit: the first, the last, that of the
// cursor, then the others.
func (x Times) Axis(t *theme.Theme, cursor int) (rule, days string) {
	if len(x.at) == 0 || x.width < 1 {
		return "", ""
	}
	cells := make([]string, x.width)
	for i := range cells {
		cells[i] = t.Sign.Rule
	}
	for i, col := range x.cols {
		cells[col] = t.Sign.Tick
		if x.broken[i] {
			middle := (x.cols[i-1] + col) / 2
			cells[middle] = "/"
			if middle+1 < col {
				cells[middle+1] = "/"
			}
		}
	}
	if cursor >= 0 && cursor < len(x.cols) {
		cells[x.cols[cursor]] = "^"
	}
	return strings.Join(cells, ""), x.days(cursor)
}

func (x Times) days(cursor int) string {
	line := []rune(strings.Repeat(" ", x.width))
	dates := notation.NewDates(x.at...)
	put := func(i int) {
		text := []rune(dates.Show(x.at[i]))
		from := min(max(x.cols[i]-len(text)/2, 0), x.width-len(text))
		for j := max(from-2, 0); from >= 0 && j < min(from+len(text)+2, len(line)); j++ {
			if line[j] != ' ' {
				return
			}
		}
		if from >= 0 {
			copy(line[from:], text)
		}
	}
	put(len(x.at) - 1)
	put(0)
	if cursor >= 0 && cursor < len(x.at) {
		put(cursor)
	}
	for i := range x.at {
		put(i)
	}
	return layout.Cut(string(line), x.width)
}
