package sums

import (
	"loosebox/exam"
	"loosebox/exam/volume"
)

type bloodJSON struct {
	Schema      string           `json:"schema"`
	VolumeML    float64          `json:"blood_volume_ml"`
	MLPerKg     float64          `json:"ml_per_kg"`
	WeightKg    float64          `json:"weight_kg"`
	WeightBy    exam.WeighMethod `json:"weight_by,omitempty"`
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
	Order int           `json:"order"`
	Tube  exam.TubeKind `json:"tube"`
	Cap   string        `json:"cap"`
	Fill  string        `json:"fill"`
	Mix   string        `json:"mix"`
}

// Document is the blood as JSON shows it.
func (b Blood) Document() any {
	j := bloodJSON{
		Schema: "loosebox/blood/1", VolumeML: b.Blood.VolumeML, MLPerKg: b.Blood.Type.MLPerKg, Type: b.Blood.Type.Whom, Source: b.Blood.Type.Source, Evidence: b.Blood.Type.Evidence,
		WeightKg: rounded(b.Weight.Kg), WeightBy: b.Weight.Method, WeightAge: rounded(b.Weight.AgeDays),
		DrawML: b.Blood.DrawML, DrawPercent: b.Blood.DrawPercent, Limits: make([]bloodLimitJSON, len(b.Blood.Limits)), Warnings: b.Warnings(),
	}
	for i, l := range b.Blood.Limits {
		j.Limits[i] = bloodLimitJSON{
			Percent: l.Percent, Of: l.Of, Days: l.Days, ML: l.ML, DrawnML: onlyIf(l.HasDrawn, l.DrawnML), LeftML: onlyIf(l.HasDrawn, l.LeftML),
			Over: l.Over, Source: l.Source, Evidence: l.Evidence,
		}
	}
	for _, t := range b.Tubes {
		j.Tubes = append(j.Tubes, bloodTubeJSON{t.Order, t.Kind, t.Cap, t.Fill, t.Mix})
	}
	return j
}
