package rehearse

import (
	"math/rand/v2"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// Gut sounds by quadrant. Any sound 1 to 3 a minute, under 1 low, over 3 high: TH-GUT. The long rush at the right
// flank every 1 to 2 minutes: COOR. Gaps are drawn evenly between the ends, so that a minute of listening always
// holds what the figure promises; how even a real gut is was not found.
const (
	heardLow, heardHigh         = 20.0, 60.0 // s from sound to sound: 1 to 3 a minute
	reducedLow, reducedHigh     = 62.0, 90.0 // under 1 a minute
	increasedLow, increasedHigh = 6.0, 18.0  // over 3 a minute
	rushLow, rushHigh           = 60.0, 120.0
)

// SoundKind is what a gut sound is like.
type SoundKind string

// The kinds of gut sound.
const (
	Gurgle SoundKind = "soft gurgle"
	Rumble SoundKind = "deep rumble"
	Rush   SoundKind = "long rush, like a drain"
	Faint  SoundKind = "faint, far-off gurgle"
	Loud   SoundKind = "loud rumble, close by"
)

// Sound is one gut sound at a place.
type Sound struct {
	AtS     float64   `json:"at_s"`
	LengthS float64   `json:"length_s"`
	Kind    SoundKind `json:"kind"`
}

// quarter is one quadrant: its sounds and, at the right flank, the rush.
type quarter struct {
	train, rush *train
	kind        SoundKind
	lengths     CaseOrigin
	site        exam.Site
}

// gut makes the sounds of one quadrant after the answer that is true of it.
func gut(o CaseOrigin, site exam.Site, word string) *quarter {
	r := o.random("gut " + string(site))
	q := &quarter{kind: Rumble, lengths: o, site: site}
	if site == exam.LeftUpper || site == exam.RightUpper {
		q.kind = Gurgle
	}
	switch word {
	case "none":
		return q
	case "reduced":
		q.kind, q.train = Faint, gaps(r, reducedLow, reducedHigh)
	case "increased":
		q.kind, q.train = Loud, gaps(r, increasedLow, increasedHigh)
	default:
		q.train = gaps(r, heardLow, heardHigh)
	}
	if site == exam.RightUpper && word == "heard" {
		q.rush = gaps(o.random("gut rush"), rushLow, rushHigh)
	}
	return q
}

func gaps(r *rand.Rand, low, high float64) *train {
	return newTrain(between(r, 0, low), func() float64 { return between(r, low, high) })
}

// between lists the sounds that begin from one second up to another, in order. The rush takes the place of the sound
// that would begin nearest to it, so that the figure a minute stays what it is.
func (q *quarter) between(from, to float64) []Sound {
	if q.train == nil {
		return nil
	}
	var out []Sound
	for _, at := range q.train.between(from, to) {
		r := q.lengths.random("gut length " + string(q.site) + notation.FormatNumber(at, 3))
		s := Sound{AtS: at, Kind: q.kind, LengthS: between(r, 1, 3)}
		if q.rush != nil && q.rushes(at) {
			s.Kind, s.LengthS = Rush, between(r, 5, 9)
		}
		out = append(out, s)
	}
	return out
}

// rushes says that the sound at a moment is the one nearest after a rush is due.
func (q *quarter) rushes(at float64) bool {
	due := q.rush.between(at-heardHigh, at+0.001)
	if len(due) == 0 {
		return false
	}
	return len(q.train.between(due[len(due)-1], at)) == 0
}
