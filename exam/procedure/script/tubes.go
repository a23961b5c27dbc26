package script

import (
	"cmp"
	"fmt"

	"loosebox/exam"
	"loosebox/exam/notation"
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

// summary is what is saved of a draw that is over, with what stands on each tube.
func (s *blood) summary(d exam.Draw) []Text {
	amount := volume.Plain(d.DrawnML()) + " mL"
	if d.NotKnown {
		amount = "how much is not known"
	}
	head := []Text{{Words: fmt.Sprintf("Saved: %s, %s, by %s", d.State, amount, notation.CleanLine(d.EndBy, 40)), Tone: Strong, Cut: true}}
	for _, f := range d.Filled {
		text := fmt.Sprintf("%s, %s mL", f.Kind, volume.Plain(f.ML))
		if f.Short {
			text += ", not filled correctly"
		}
		head = append(head, Text{Words: text + ": " + f.Label})
	}
	left := "not filled: "
	if d.Afterwards && (d.State == exam.DrawDone || d.NotKnown) { // nobody was asked which tubes were filled meanwhile
		left = "not recorded as filled, label it if it is full: "
	}
	for _, m := range tubesLeft(d) {
		head = append(head, Text{Words: left + notation.CleanLine(string(m.Kind), 40), Tone: Warn, Cut: true})
	}
	if d.Why != "" {
		head = append(head, Text{Words: "why: " + notation.CleanLine(d.Why.String(), 0)})
	}
	if d.Sign != "" {
		head = append(head, tellVet(d.SignWords))
	}
	return head
}
