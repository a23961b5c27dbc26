package compare

import (
	"cmp"
	"slices"

	"github.com/charmbracelet/x/ansi"

	"loosebox/exam"
	"loosebox/exam/compare"
)

// foldFrom is the number of rows from which those that are the same as before are hidden until a key shows them.
const foldFrom = 12

// standsOut says that the newest finding of a row is out of its range or changed.
func standsOut(r *compare.StepRow) bool {
	return urgency(r) > 0 || r.Change.Verdict == compare.Changed || r.Change.By == nil && r.Change.Means != ""
}

func urgency(r *compare.StepRow) exam.Level {
	if len(r.Cells) == 0 || r.Cells[0].Empty || r.Cells[0].NotDone != "" {
		return 0
	}
	return r.Cells[0].Level
}

// arrange puts the rows that stand out first, the most urgent at the top; else they keep the order of the record.
func (s *screen) arrange() {
	out, rest := []int(nil), []int(nil)
	s.longest = 0
	for i := range s.table.Rows {
		r := &s.table.Rows[i]
		for _, c := range r.Cells {
			s.longest = max(s.longest, ansi.StringWidth(c.Text), ansi.StringWidth(c.NotDone.String())+1)
		}
		if standsOut(r) {
			out = append(out, i)
		} else {
			rest = append(rest, i)
		}
	}
	slices.SortStableFunc(out, func(a, b int) int {
		return -cmp.Compare(urgency(&s.table.Rows[a]), urgency(&s.table.Rows[b]))
	})
	s.out = len(out)
	s.shown = append(out, rest...)
	if s.folded() {
		s.shown = out
	}
}

// folded says that the rows that are the same as before are not drawn.
func (s *screen) folded() bool {
	return !s.every && len(s.table.Rows) >= foldFrom && s.out < len(s.table.Rows)
}

// at is the row under the cursor; false where nothing stands out and the others are not drawn.
func (s *screen) at() (*compare.StepRow, bool) {
	if s.rows.Cursor >= len(s.shown) {
		return nil, false
	}
	return &s.table.Rows[s.shown[s.rows.Cursor]], true
}

// find puts the cursor on a place, and shows every row where that place is hidden.
func (s *screen) find(k exam.Key) {
	for i := range s.table.Rows {
		if r := &s.table.Rows[i]; r.Step == k.Step && r.Site == k.Site {
			if s.folded() && !slices.Contains(s.shown, i) {
				s.every = true
				s.arrange()
			}
			s.rows.Cursor = slices.Index(s.shown, i)
		}
	}
}

// toggle shows or hides the rows that are the same as before; the cursor keeps its row where that is still drawn.
func (s *screen) toggle() {
	was := -1
	if s.rows.Cursor < len(s.shown) {
		was = s.shown[s.rows.Cursor]
	}
	s.every = !s.every
	s.arrange()
	s.rows.Cursor = max(slices.Index(s.shown, was), 0)
}
