package volume

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// BloodTube is how one kind of tube is filled and mixed. Evidence is the weakest
// of what the row says: how it is filled, how it is mixed, and its sizes.
type BloodTube struct {
	Kind            exam.TubeKind
	Order           int     // from 1
	Cap             string  `words:"cap"`
	For             string  `words:"for"`
	Fill            string  `words:"fill"`
	Mix             string  `words:"mix"`
	SizeLow, SizeML float64 // usual sizes, mL; 0 where none is held
	Source          string
	Evidence        ranges.Evidence
}

// OrderSource is where the order of draw was read.
const OrderSource = "CLSI GP41, as applied to animals by City University Veterinary Diagnostic Laboratory, PT_CollectionTube"

// BloodTubes lists the tubes in the order of draw, the same with vacuum tubes, a
// syringe or a winged set. What EDTA carries over lowers calcium and raises
// potassium in the next tube, so it comes late.
func BloodTubes() []BloodTube { return bloodTubes() }

func builtInTubes() []BloodTube {
	const (
		gentle = "as its maker says, or 5 or 6 gentle inversions at once; never shake"
		mixing = "; mixing: an article for practices (equimanagement.com)"
	)
	return []BloodTube{
		{exam.TubeCulture, 1, "bottle", "culture", "as its label says", gentle, 0, 0, "order: " + OrderSource + mixing, ranges.PracticePage},
		{exam.TubeCitrate, 2, "light blue", "clotting tests", "exactly to the line, 1 part to 9 of blood; short or over-full is refused. After a winged set fill a discard tube first", gentle, 1.8, 2.7, "Oregon State University, clotting samples; the discard tube: a manual for people" + mixing, ranges.PracticePage},
		{exam.TubeSerum, 3, "red or marbled", "serum chemistry, serology", "as far as the vacuum draws", "Clot activator tube: 5 inversions. Plain tube: do not invert. Stand it upright to clot", 6, 10, "University of Georgia, clinical pathology; eclinpath.com; its sizes from memory", ranges.FromMemory},
		{exam.TubeHeparin, 4, "green", "plasma chemistry", "as far as the vacuum draws", gentle, 0, 0, "eclinpath.com; Cornell University, hematology" + mixing, ranges.PracticePage},
		{exam.TubeEDTA, 5, "purple", "blood count, smear, PCR", "full; a tube less than half full shrinks the red cells and lowers the count", gentle, 2, 3, "eclinpath.com; Cornell University, hematology; University of Georgia, clinical pathology" + mixing, ranges.PracticePage},
		{exam.TubeFluoride, 6, "gray", "glucose that has to wait", "as far as the vacuum draws", gentle, 0, 0, "University of Georgia, clinical pathology" + mixing, ranges.PracticePage},
	}
}

// InOrder puts kinds of tubes into the order of draw. The same kind may come
// twice. The error is a *notation.Refusal that lists the kinds.
func InOrder(kinds []exam.TubeKind) ([]BloodTube, error) {
	all := BloodTubes()
	out := make([]BloodTube, 0, len(kinds))
	for _, kind := range kinds {
		typed := strings.TrimSpace(string(kind))
		i := slices.IndexFunc(all, func(t BloodTube) bool {
			return strings.EqualFold(string(t.Kind), typed) || strings.EqualFold(t.Kind.String(), typed)
		})
		if i < 0 {
			names := make([]string, len(all))
			for k, t := range all {
				names[k] = t.Kind.String()
			}
			return nil, &notation.Refusal{
				Typed: notation.CleanLine(string(kind), 40),
				Why:   fmt.Sprintf("%q is no tube that is known here: %s", notation.CleanLine(string(kind), 40), strings.Join(names, ", ")),
			}
		}
		out = append(out, all[i])
	}
	slices.SortStableFunc(out, func(a, b BloodTube) int { return cmp.Compare(a.Order, b.Order) })
	return out, nil
}

// LabelRule says how a tube is labelled.
const LabelRule = "Label before you leave the animal: permanent pen, on the tube, not on the cap."

// Label are the lines of a tube's label, at most 40 columns each: which animal,
// whose, when, what, by whom. Patient and owner are the least (Cornell
// University, hematology); date, time and the pen: wikivet.net, blood sample
// collection, and a state laboratory of Tasmania.
func Label(h exam.Horse, kind exam.TubeKind, at time.Time, by string) []string {
	named := func(what, text string) string {
		return notation.CleanLine(what+": "+cmp.Or(notation.CleanLine(text, 0), "________"), 40)
	}
	lines := []string{named("horse", h.Name), named("owner", h.Owner)}
	if h.Chip != "" {
		lines = append(lines, named("chip", h.Chip))
	}
	return append(lines, named("drawn", at.Format(notation.DayShown+" 15:04")), named("tube", string(kind)), named("by", by))
}
