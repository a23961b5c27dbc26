package order

import (
	"fmt"
	"slices"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/procedure"
	"loosebox/exam/volume"
)

// Limits sets a draw beside the limits of package volume, with what was drawn
// before it as the record has it. Over are those that are crossed, or why nothing
// can be said.
func Limits(s Stand, kg, ml float64, now time.Time) (lines, over []string) {
	blood, unsure, err := bloodOf(s, kg, ml, now)
	if err != nil {
		return nil, []string{"Check: " + err.Error()}
	}
	lines = append(lines, fmt.Sprintf("%s mL is %s %% of about %s L of blood (%s mL/kg, %s)", volume.Plain(ml), notation.FormatNumber(blood.DrawPercent, 2),
		notation.FormatNumber(blood.VolumeML/1000, 1), volume.Plain(blood.Type.MLPerKg), blood.Type.Evidence))
	for _, l := range blood.Limits {
		if !l.Warns || l.Of != volume.OfBlood {
			continue
		}
		most := fmt.Sprintf("%s mL (%s %%)", volume.Plain(l.ML), volume.Plain(l.Percent))
		line := fmt.Sprintf("in %s days up to %s; the record does not go back so far", volume.Plain(l.Days), most)
		if l.HasDrawn {
			line = fmt.Sprintf("last %s days: %s mL drawn, of %s", volume.Plain(l.Days), volume.Plain(l.DrawnML), most)
		}
		lines = append(lines, line)
	}
	if w := s.Weight(now); w.Kg == kg {
		for _, warning := range w.Warnings() {
			lines = append(lines, "Check: "+warning.Text)
		}
	}
	if unsure {
		lines = append(lines, "the amount of one draw is not known")
	}
	return lines, marked(blood)
}

// LimitLine is Limits in one line, for a screen that is full: this draw and the
// sum of the last 14 days.
func LimitLine(s Stand, kg, ml float64, now time.Time) (line string, over []string) {
	blood, unsure, err := bloodOf(s, kg, ml, now)
	if err != nil {
		return "", []string{"Check: " + err.Error()}
	}
	line = fmt.Sprintf("%s mL, %s %% of blood", volume.Plain(ml), notation.FormatNumber(blood.DrawPercent, 2))
	for _, l := range blood.Limits {
		if l.Days == 14 && l.Of == volume.OfBlood && l.HasDrawn {
			line += fmt.Sprintf(". Last 14 days: %s mL. Limit %s mL", volume.Plain(l.DrawnML), volume.Plain(l.ML))
		}
	}
	if unsure {
		line += ", and one not known"
	}
	return line, marked(blood)
}

func bloodOf(s Stand, kg, ml float64, now time.Time) (volume.Blood, bool, error) {
	past, unsure := procedure.PastDraws(s.All, now)
	animal := volume.Animal{Kind: s.Horse.Kind, Young: s.Visit.Class().Young, Breed: s.Horse.Breed}
	blood, err := volume.BloodOf(animal, kg, ml, past, now)
	return blood, unsure, err
}

func marked(b volume.Blood) []string {
	var out []string
	for _, w := range b.Warnings {
		out = append(out, "Check: "+w)
	}
	return out
}

// Without are visits without one draw of one of them, to set that draw beside what
// was drawn before it.
func Without(visits []exam.Visit, id exam.VisitID, number int) []exam.Visit {
	out := slices.Clone(visits)
	for i := range out {
		if out[i].ID == id {
			out[i].Draws = slices.DeleteFunc(slices.Clone(out[i].Draws), func(d exam.Draw) bool { return d.Number == number })
		}
	}
	return out
}
