package procedure

import (
	"fmt"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/volume"
)

// PastDraws gathers the blood drawn from a horse out of its visits, for the limits
// of package volume. The record is taken to go back to its first visit: what was
// drawn elsewhere is not in it. Blood of which nobody could say how much counts
// with what its tubes hold, and unsure says so.
func PastDraws(visits []exam.Visit, now time.Time) (past volume.Past, unsure bool) {
	for _, v := range visits {
		if days := now.Sub(v.OpenedAt).Hours() / 24; days > past.KnownDays {
			past.KnownDays = days
		}
		for _, d := range v.Draws {
			at := d.At
			if d.EndAt != nil {
				at = *d.EndAt
			}
			unsure = unsure || d.NotKnown
			if ml := d.DrawnML(); ml > 0 {
				past.Draws = append(past.Draws, volume.Draw{At: at, ML: ml})
			}
		}
	}
	return past, unsure
}

// Plan puts the tubes of a draw into the order of draw, with the text of each
// label; total is what they hold together, mL. Errors are *notation.Refusal.
func Plan(h exam.Horse, kinds []exam.TubeKind, at time.Time, by string) (tubes []exam.Tube, total float64, err error) {
	ordered, err := volume.InOrder(kinds)
	if err != nil {
		return nil, 0, err
	}
	for _, t := range ordered {
		label := strings.Join(volume.Label(h, t.Kind, at, by), " / ")
		tubes = append(tubes, exam.Tube{Kind: t.Kind, ML: t.SizeML, Label: label})
		total += t.SizeML
	}
	return tubes, total, nil
}

// InDrawOrder says whether a tube may be filled after those that are full: one that
// comes earlier in the order of draw is asked about, because what it carries over
// falsifies the next (CLSI GP41).
func InDrawOrder(filled []exam.Filled, next exam.TubeKind) (string, bool) {
	place := map[exam.TubeKind]int{}
	for _, t := range volume.BloodTubes() {
		place[t.Kind] = t.Order
	}
	for _, f := range filled {
		if place[next] < place[f.Kind] {
			return fmt.Sprintf("%s comes before %s in the order of draw: what the tube before carries over may falsify it (CLSI GP41).", next, f.Kind), false
		}
	}
	return "", true
}

// ReadDose is notation.ReadDose as the text that is written down. Errors are
// *notation.Refusal and name the units.
func ReadDose(text string) (string, error) {
	d, err := notation.ReadDose(text)
	if err != nil {
		return "", err
	}
	return d.Text(), nil
}
