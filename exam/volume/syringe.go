package volume

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"loosebox/exam/bounded"
	"loosebox/exam/notation"
	"loosebox/ranges"
	"loosebox/ranges/csvfile"
)

// Syringe is a syringe with its smallest mark, both in mL. Marks differ between
// makers: the syringe in the hand decides, and a practice keeps a table of its own.
type Syringe struct {
	ML, MarkML float64
	Name       string
	Source     string
	Evidence   ranges.Evidence
}

// Syringes is the built-in table, smallest first; of two of one size the coarser
// comes first. The figures that were read come from figures of syringes in a
// university's teaching page.
func Syringes() []Syringe {
	const page = "marks of common syringes (figures of RMIT University, seen in a reprint); look at yours"
	return []Syringe{
		{1, 0.1, "1 mL", page, ranges.CommonPractice},
		{1, 0.01, "1 mL tuberculin", page, ranges.CommonPractice},
		{3, 0.1, "3 mL", page, ranges.CommonPractice},
		{5, 0.2, "5 mL", page, ranges.CommonPractice},
		{6, 0.2, "6 mL", "not read", ranges.FromMemory},
		{10, 0.2, "10 mL", page + "; one page says 0.5", ranges.CommonPractice},
		{12, 0.2, "12 mL", "not read; one page says 0.5 for 10 mL", ranges.FromMemory},
		{20, 1, "20 mL", "not read; some have 0.5", ranges.FromMemory},
		{35, 1, "35 mL", "not read", ranges.FromMemory},
		{60, 1, "60 mL", "not read; some have 2", ranges.FromMemory},
	}
}

// FindSyringe is the syringe of a size in a table (nil: the built-in one). The
// error is a *notation.Refusal that lists the sizes.
func FindSyringe(ml float64, table []Syringe) (Syringe, error) {
	if table == nil {
		table = Syringes()
	}
	var sizes []string
	for _, s := range table {
		if math.Abs(s.ML-ml) < 1e-9 {
			return s, nil
		}
		if size := Plain(s.ML); len(sizes) == 0 || sizes[len(sizes)-1] != size {
			sizes = append(sizes, size)
		}
	}
	return Syringe{}, &notation.Refusal{
		Typed: Plain(ml) + " mL",
		Why:   fmt.Sprintf("the table holds no syringe of %s mL; it holds %s mL", Plain(ml), strings.Join(sizes, ", ")),
	}
}

// Nearest is the volume at the mark nearest to an exact one, half a mark upwards.
func (s Syringe) Nearest(exactML float64) float64 { return s.nearest(exactML) }

func (s Syringe) nearest(exactML float64) float64 {
	return tidy(math.Floor(exactML/s.MarkML+0.5+1e-9) * s.MarkML)
}

// fine says that the syringe holds the volume at once and that its marks change
// it by no more than the given percentage.
func (s Syringe) fine(exactML, maxPercent float64) bool {
	drawn := s.nearest(exactML)
	return drawn <= s.ML && math.Abs(drawn-exactML) <= exactML*maxPercent/100*(1+1e-9)
}

// maxSyringes is how many rows a table has at most.
const maxSyringes = 200

// ReadSyringes reads a practice's own table: a CSV with the columns ml, mark_ml
// and name. Every line with a mistake is named, and then none is taken.
func ReadSyringes(r io.Reader, file string) ([]Syringe, error) {
	bad := csvfile.New(file, "the table of syringes %s is refused; the built-in table is used. Correct it and try again:")
	rows, err := csvfile.Read(bounded.Reader(r, bounded.Limits{Bytes: 1 << 20, Line: 1000, CSV: true}), []string{"ml", "mark_ml", "name"}, bad)
	if err != nil {
		return nil, err
	}
	table := make([]Syringe, 0, len(rows))
	for i, row := range rows {
		if i == maxSyringes {
			bad.Add(row.Number, "more than %d syringes", maxSyringes)
			break
		}
		s, err := syringeOf(row.Cells)
		if err != nil {
			bad.Add(row.Number, "%v", err)
		}
		table = append(table, s)
	}
	if len(rows) == 0 {
		bad.Add(0, "no syringe in it")
	}
	if err := bad.OrNil(); err != nil {
		return nil, err
	}
	return table, nil
}

// NewSyringe is a syringe with marks of its own. The error is a *notation.Refusal:
// the marks do not divide it.
func NewSyringe(ml, markML float64, name string) (Syringe, error) {
	if !usable(ml) || ml > 1000 {
		return Syringe{}, &notation.Refusal{Why: Plain(ml) + " mL is no size of a syringe"}
	}
	if !usable(markML) || markML > ml {
		return Syringe{}, &notation.Refusal{Why: fmt.Sprintf("%s mL is no mark of a syringe of %s mL", Plain(markML), Plain(ml))}
	}
	if marks := ml / markML; marks > 1000 || math.Abs(marks-math.Round(marks)) > 1e-6 {
		return Syringe{}, &notation.Refusal{Why: fmt.Sprintf("marks of %s mL do not divide %s mL", Plain(markML), Plain(ml))}
	}
	return Syringe{ML: ml, MarkML: markML, Name: notation.CleanLine(name, 40), Source: "the practice's own", Evidence: ranges.PracticeOwn}, nil
}

func syringeOf(row []string) (Syringe, error) {
	var sizes [2]float64
	for i := range sizes {
		v, err := strconv.ParseFloat(row[i], 64)
		if err != nil {
			return Syringe{}, fmt.Errorf("%q is no number of mL", notation.CleanLine(row[i], 20))
		}
		sizes[i] = v
	}
	return NewSyringe(sizes[0], sizes[1], row[2])
}
