package volume

import (
	"fmt"
	"math"
	"time"

	"loosebox/exam/notation"
	"loosebox/ranges"
)

// Base says what a percentage of a limit is taken of.
type Base string

// The bases of a limit; one per cent of body weight is 10 mL a kg.
const (
	OfBlood Base = "blood volume"
	OfBody  Base = "body weight"
)

// BloodLimit is how much blood one source lets be drawn in a number of days.
type BloodLimit struct {
	Percent  float64
	Of       Base
	Days     float64
	Words    string // what else is to be known of it; may be empty
	Warns    bool   // a draw that crosses it is warned of
	Source   string
	Evidence ranges.Evidence
}

// BloodLimits lists the limits by source, the shortest time first. None was made
// for a technician's draw of a few tubes from a grown horse, which stays far
// below all of them; they bite in small foals and miniatures.
func BloodLimits() []BloodLimit {
	const (
		montana    = "Montana State University, blood collection in agricultural animals"
		penn       = "Pennsylvania State University, animal resource program, citing a table of the NC3Rs"
		iowa       = "University of Iowa, guidelines for blood collection (examples are rodents)"
		davis      = "University of California, Davis, safety services: blood volumes (laboratory animals)"
		laboratory = "a contract laboratory quoting Diehl et al. 2001, altasciences.com"
	)
	return []BloodLimit{
		{1, OfBody, 1, "", false, iowa, ranges.Published},
		{15, OfBlood, 1, "at one draw", false, laboratory, ranges.PracticePage},
		{20, OfBlood, 1, "in several draws", false, laboratory, ranges.PracticePage},
		{7.5, OfBlood, 7, "", true, montana, ranges.Published},
		{10, OfBlood, 14, "no harm expected below", true, penn, ranges.Published},
		{1, OfBody, 14, "", true, penn + "; " + davis, ranges.Published},
		{1.5, OfBody, 14, "", false, iowa, ranges.Published},
		{15, OfBlood, 28, "", false, "BVA, FRAME, RSPCA and UFAW, 1993", ranges.FromMemory},
		{20, OfBlood, 30, "blood donors only", false, "Equine Clinical Medicine, Surgery and Reproduction, 2nd edition, p. 1011", ranges.Published},
	}
}

// Draw is blood taken from the horse before.
type Draw struct {
	At time.Time
	ML float64
}

// Past are the draws that are known, and how many days back they are known.
type Past struct {
	Draws     []Draw
	KnownDays float64
}

// within is the blood drawn in the days before a moment; false where the record
// does not go back so far. A draw dated later counts too: a wrong clock makes
// no room.
func (p Past) within(days float64, now time.Time) (float64, bool) {
	if days > p.KnownDays {
		return 0, false
	}
	start := now.Add(-time.Duration(days * 24 * float64(time.Hour)))
	sum := 0.0
	for _, d := range p.Draws {
		if !d.At.Before(start) && usable(d.ML) {
			sum += d.ML
		}
	}
	return sum, true
}

// LimitState is a limit for one animal and what is left of it.
type LimitState struct {
	BloodLimit
	ML float64
	// HasDrawn says that the draws are known as far back as the limit reaches;
	// DrawnML is their sum and LeftML what is left before the draw in hand.
	HasDrawn        bool
	DrawnML, LeftML float64
	Over            bool // with the draw in hand it is crossed
}

// Blood is how much blood an animal has and how much of it may go.
type Blood struct {
	Type        BloodType
	VolumeML    float64
	DrawML      float64 // the draw in hand; 0: none
	DrawPercent float64 // of the blood volume
	Limits      []LimitState
	Warnings    []string
}

// BloodOf reckons the blood of an animal of this weight, what the draw in hand
// takes of it, and what each limit leaves. The limits are others' and most were
// made for other animals: the veterinarian decides. The error is a *notation.Refusal.
func BloodOf(a Animal, kg, drawML float64, past Past, now time.Time) (Blood, error) {
	if err := possibleKg(kg); err != nil {
		return Blood{}, err
	}
	if math.IsNaN(drawML) || math.IsInf(drawML, 0) || drawML < 0 {
		return Blood{}, &notation.Refusal{Why: "a draw is not below zero"}
	}
	b := Blood{Type: BloodTypeFor(a), DrawML: drawML}
	b.VolumeML = tidy(b.Type.MLPerKg * kg)
	if drawML > b.VolumeML {
		return Blood{}, &notation.Refusal{Why: fmt.Sprintf("%s mL is more than the blood of an animal of %s kg (about %s mL)", Plain(drawML), Plain(kg), Plain(b.VolumeML))}
	}
	b.DrawPercent = tidy(drawML / b.VolumeML * 100)
	for _, l := range BloodLimits() {
		s := LimitState{BloodLimit: l, ML: tidy(l.Percent / 100 * b.VolumeML)}
		if l.Of == OfBody {
			s.ML = tidy(l.Percent / 100 * kg * 1000)
		}
		s.DrawnML, s.HasDrawn = past.within(l.Days, now)
		s.DrawnML = tidy(s.DrawnML)
		s.LeftML = tidy(max(0, s.ML-s.DrawnML))
		s.Over = s.DrawnML+drawML > s.ML*(1+1e-9)
		if s.Over && l.Warns {
			b.Warnings = append(b.Warnings, fmt.Sprintf("%s mL with this draw, over %s %% of %s in %s days (%s mL): ask the veterinarian first",
				Plain(s.DrawnML+drawML), Plain(l.Percent), l.Of, Plain(l.Days), Plain(s.ML)))
		}
		b.Limits = append(b.Limits, s)
	}
	return b, nil
}
