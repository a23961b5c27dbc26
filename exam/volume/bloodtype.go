package volume

import (
	"strings"

	"loosebox/exam"
	"loosebox/ranges"
)

// BloodType is one published figure for how much blood an animal has, in
// millilitres a kilogram of body weight.
type BloodType struct {
	Whom     string
	MLPerKg  float64
	Source   string
	Evidence ranges.Evidence
	Note     string
}

// The rows that the choice of BloodTypeFor falls on.
const (
	bloodHorse = iota
	bloodHot
	bloodCold
	bloodFoal
	bloodThumb
)

// chosenBlood are the figures that limits are reckoned from. Where sources
// differ the lower figure is held, because a limit rests on it.
func chosenBlood() [5]BloodType {
	const ball = "Ball, Understanding Equine First Aid, at thehorse.com/152509"
	const standardbred = "Standardbreds from birth, plasma and red cells (abstract, scilit.com c423fccc)"
	return [5]BloodType{
		bloodHorse: {
			"horse", 75, "Montana State University, blood collection in agricultural animals", ranges.Published,
			"Other sources have 76 and 80 for the average horse. Old or very fat animals have up to 15 % less.",
		},
		bloodHot:  {"Thoroughbred and like hot-blooded horses", 100, ball, ranges.PracticePage, ""},
		bloodCold: {"draft and like cold-blooded horses", 65, ball, ranges.PracticePage, ""},
		bloodFoal: {
			"foal", 101, standardbred, ranges.Published,
			"Measured from day 100 on; at birth it was 152. The lower figure is held for every foal under six months.",
		},
		bloodThumb: {
			"rule of thumb for any of them", 70, "7 to 9 % of body weight, the low end", ranges.FromMemory,
			"No published figure is held for this kind of animal.",
		},
	}
}

// BloodTypes lists every figure held, those that BloodTypeFor chooses among
// first, then those that stand beside them for comparison.
func BloodTypes() []BloodType {
	chosen := chosenBlood()
	return append(chosen[:],
		BloodType{"average horse", 80, chosen[bloodHot].Source, ranges.PracticePage, ""},
		BloodType{"horse, laboratory table", 76, "Drexel University table, as quoted at en.wikipedia.org/wiki/Blood_volume", ranges.CommonPractice, ""},
		BloodType{"Standardbred foal at birth", 152, chosen[bloodFoal].Source, ranges.Published, "Plasma 93 and red cells 59."},
	)
}

// Animal is what the amount of blood needs to know of an animal.
type Animal struct {
	Kind  exam.AnimalKind
	Young bool // under six months
	Breed string
}

// BloodTypeFor chooses the figure for an animal. Ponies, miniatures, donkeys and
// mules have no published figure here and get the low end of the rule of thumb,
// marked as from memory.
func BloodTypeFor(a Animal) BloodType {
	rows := chosenBlood()
	breed := strings.ToLower(a.Breed)
	switch {
	case a.Kind == exam.AnimalDraft && !a.Young, a.Kind == exam.AnimalHorse && !a.Young && strings.Contains(breed, "percheron"):
		return rows[bloodCold]
	case a.Kind != exam.AnimalHorse && a.Kind != exam.AnimalDraft:
		return rows[bloodThumb]
	case a.Kind == exam.AnimalDraft: // foals of light horses were measured, not these
		return rows[bloodThumb]
	case a.Young:
		return rows[bloodFoal]
	case strings.Contains(breed, "thoroughbred"):
		return rows[bloodHot]
	}
	return rows[bloodHorse]
}
