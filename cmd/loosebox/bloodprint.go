package main

import (
	"fmt"
	"slices"
	"strings"

	"loosebox/exam/notation"
	"loosebox/exam/sums"
	"loosebox/exam/volume"
)

func (e *env) printBlood(out sums.Blood) error {
	b, w, tubes := out.Blood, out.Weight, out.Tubes
	lines := []string{
		fmt.Sprintf("about %s L of blood, %s mL/kg: %s", notation.FormatNumber(b.VolumeML/1000, 1), volume.Plain(b.Type.MLPerKg), b.Type.Whom),
		fmt.Sprintf("source: %s (%s)", b.Type.Source, b.Type.Evidence),
	}
	if b.Type.Note != "" {
		lines = append(lines, b.Type.Note)
	}
	if w.Method != "" {
		lines = append(lines, w.Line())
	}
	if b.DrawML > 0 {
		lines = append(lines, fmt.Sprintf("this draw: %s mL, %s %% of it", volume.Plain(b.DrawML), volume.Share(b.DrawPercent)))
	}
	if err := e.lines(lines...); err != nil {
		return err
	}
	rows, sources := limitRows(b)
	if err := columns(e.out, rows); err != nil {
		return err
	}
	lines = nil
	for i, source := range sources {
		lines = append(lines, fmt.Sprintf("[%d] %s", i+1, source))
	}
	for _, w := range out.Warnings() {
		lines = append(lines, "Check: "+w)
	}
	for i, t := range tubes {
		lines = append(lines, fmt.Sprintf("%d. %s (%s): %s; mix: %s", i+1, t.Kind, t.Cap, t.Fill, t.Mix))
	}
	if len(tubes) > 0 {
		lines = append(lines, "order: "+volume.OrderSource, volume.LabelRule)
	}
	return e.lines(append(lines, "The veterinarian and local rules decide how much may be drawn.")...)
}

// limitRows are the limits as a table, and the sources that its last column numbers.
func limitRows(b volume.Blood) (rows [][]string, sources []string) {
	rows = [][]string{{"", "limit", "in", "mL", "drawn", "left", ""}}
	for _, l := range b.Limits {
		source := fmt.Sprintf("%s (%s)", l.Source, l.Evidence)
		at := slices.Index(sources, source)
		if at < 0 {
			at, sources = len(sources), append(sources, source)
		}
		mark, drawn, left := "", "not said", "-"
		if l.Over {
			mark = "over"
		}
		if l.HasDrawn {
			drawn, left = volume.Plain(l.DrawnML), volume.Plain(l.LeftML)
		}
		rows = append(rows, []string{
			mark, fmt.Sprintf("%s %% of %s", volume.Plain(l.Percent), short(l.Of)), notation.Counted(int(l.Days), "day"), volume.Plain(l.ML), drawn, left,
			strings.TrimSpace(fmt.Sprintf("[%d] %s", at+1, l.Words)),
		})
	}
	return rows, sources
}

// short is the base of a limit in one word, for the table.
func short(of volume.Base) string {
	if of == volume.OfBody {
		return "weight"
	}
	return "blood"
}
