package script

import (
	"cmp"

	"loosebox/exam"
	"loosebox/exam/volume"
)

// tubesLeft are the ordered tubes of a draw that are not filled yet, in the order
// of draw.
func tubesLeft(d exam.Draw) []exam.Tube {
	filled := map[exam.TubeKind]int{}
	for _, f := range d.Filled {
		filled[f.Kind]++
	}
	var out []exam.Tube
	for _, t := range d.Order.Tubes {
		if filled[t.Kind] > 0 {
			filled[t.Kind]--
			continue
		}
		out = append(out, t)
	}
	return out
}

// tubeOf is how a kind of tube is filled and mixed.
func tubeOf(kind exam.TubeKind) volume.BloodTube {
	for _, t := range volume.BloodTubes() {
		if t.Kind == kind {
			return t
		}
	}
	return volume.BloodTube{Kind: kind}
}

// labelOf is what stands on a tube of a draw, with the time of its needle.
func labelOf(h exam.Horse, d exam.Draw, kind exam.TubeKind) []string {
	stick, _ := d.NeedleIn()
	return volume.Label(h, kind, stick.At, cmp.Or(d.Order.VetDraws, d.By))
}

// all is what is drawn and still to come.
func all(d exam.Draw) float64 {
	ml := d.DrawnML()
	for _, t := range tubesLeft(d) {
		ml += t.ML
	}
	return ml
}
