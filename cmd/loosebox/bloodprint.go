package main

import (
	"fmt"
	"slices"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/volume"
)

type bloodJSON struct {
	Schema      string           `json:"schema"`
	VolumeML    float64          `json:"blood_volume_ml"`
	MLPerKg     float64          `json:"ml_per_kg"`
	WeightKg    float64          `json:"weight_kg"`
	WeightBy    string           `json:"weight_by,omitempty"`
	WeightAge   float64          `json:"weight_age_days,omitempty"`
	Type        string           `json:"type"`
	Source      string           `json:"source"`
	Evidence    exam.Evidence    `json:"evidence"`
	DrawML      float64          `json:"draw_ml"`
	DrawPercent float64          `json:"draw_percent"`
	Limits      []bloodLimitJSON `json:"limits"`
	Warnings    []string         `json:"warnings"`
	Tubes       []bloodTubeJSON  `json:"tubes,omitempty"`
}

type bloodLimitJSON struct {
	Percent  float64       `json:"percent"`
	Of       volume.Base   `json:"of"`
	Days     float64       `json:"days"`
	ML       float64       `json:"ml"`
	DrawnML  *float64      `json:"drawn_ml"`
	LeftML   *float64      `json:"left_ml"`
	Over     bool          `json:"over"`
	Source   string        `json:"source"`
	Evidence exam.Evidence `json:"evidence"`
}

type bloodTubeJSON struct {
	Order int             `json:"order"`
	Tube  volume.TubeKind `json:"tube"`
	Cap   string          `json:"cap"`
	Fill  string          `json:"fill"`
	Mix   string          `json:"mix"`
}

func bloodOf(b volume.Blood, w volume.Weight, tubes []volume.BloodTube) bloodJSON {
	j := bloodJSON{
		Schema: "loosebox/blood/1", VolumeML: b.VolumeML, MLPerKg: b.Type.MLPerKg, Type: b.Type.Whom, Source: b.Type.Source, Evidence: b.Type.Evidence,
		WeightKg: rounded(w.Kg), WeightBy: w.Method, WeightAge: rounded(w.AgeDays),
		DrawML: b.DrawML, DrawPercent: b.DrawPercent, Limits: make([]bloodLimitJSON, len(b.Limits)), Warnings: append([]string{}, b.Warnings...),
	}
	for i, l := range b.Limits {
		j.Limits[i] = bloodLimitJSON{
			Percent: l.Percent, Of: l.Of, Days: l.Days, ML: l.ML, DrawnML: onlyIf(l.HasDrawn, l.DrawnML), LeftML: onlyIf(l.HasDrawn, l.LeftML),
			Over: l.Over, Source: l.Source, Evidence: l.Evidence,
		}
	}
	for _, t := range tubes {
		j.Tubes = append(j.Tubes, bloodTubeJSON{t.Order, t.Kind, t.Cap, t.Fill, t.Mix})
	}
	return j
}

func (e *env) printBlood(b volume.Blood, w volume.Weight, tubes []volume.BloodTube) error {
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
	for _, w := range b.Warnings {
		lines = append(lines, "! "+w)
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
			mark = "!"
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
