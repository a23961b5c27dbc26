package judge

import (
	"fmt"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// RangeText is what a screen shows of the range of one step for one class.
type RangeText struct {
	Usual    string        // "28-44 /min"
	Line     string        // all limits in one line, without sources
	Words    string        // what was measured and how sure it is
	Evidence exam.Evidence // the weaker of the two usual ends; of the limits where no usual end is held
	Source   string        // citations of the usual ends
	Sources  []string      // each limit with its citation and evidence, a line each
	Practice bool          // the practice's own row
	Low      *float64      // of what is usual, in Unit; nil for none
	High     *float64
	Unit     notation.Unit
	Zones    []ranges.Zone // the row as a line of levels, in Unit
	// Why says why no range is held; the other fields are then empty.
	Why string
}

// Range is the range of a step for a class, in the preferred unit where the step takes it. It is false where none is
// held; Why then says so, or is empty where the step has no range by its nature.
func (j *Judge) Range(c exam.Class, step exam.Step, prefer notation.Unit) (RangeText, bool) {
	if step.Range == "" {
		return RangeText{}, false
	}
	row, ok := j.rowFor(&step, c.Name, prefer)
	if !ok {
		return RangeText{Why: j.noRange(&step, c.Name)}, false
	}
	text := RangeText{
		Usual: usualSpan(&row), Line: row.Brief(), Words: row.Words,
		Practice: row.Origin == ranges.OriginPractice,
		Low:      row.Usual.Low, High: row.Usual.High, Unit: notation.Unit(row.Unit), Zones: row.Zones(),
	}
	var usual []string
	var limits exam.Evidence
	for _, b := range row.Backings() {
		cited := j.table.Cite(b.Source)
		text.Sources = append(text.Sources, fmt.Sprintf("source of %s: %s (%s)", b.Text, cited, b.Evidence))
		if strings.HasPrefix(b.Text, "usual") {
			usual, text.Evidence = append(usual, cited), ranges.Weaker(text.Evidence, b.Evidence)
		}
		limits = ranges.Weaker(limits, b.Evidence)
	}
	if len(usual) == 0 {
		text.Evidence = limits
	}
	text.Source = strings.Join(usual, "; ")
	return text, true
}

// Cite writes the source behind a code of a step's choice out for a person; empty for none.
func (j *Judge) Cite(code string) string {
	if code == "" {
		return ""
	}
	return j.table.Cite(code)
}

// OwnSource says how an own range is made and where that comes from, a line each.
func OwnSource(r exam.OwnRange) []string {
	return []string{
		"median " + notation.Quantity{Value: r.Median, Unit: r.Unit}.Text(1) + ", plus and minus twice 1.4826 x the median distance, corrected for few visits",
		"from healthy visits: below recheck, same class, at rest, no medicine to calm, one way of weighing. Never beyond a limit of its class",
		"source: median absolute deviation, Croux and Rousseeuw 1992 (from memory; a test finds the correction by simulation)",
	}
}
