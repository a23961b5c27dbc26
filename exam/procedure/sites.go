package procedure

import (
	"loosebox/exam"
	"loosebox/ranges"
)

// Keys of the sites, as they stand in the record.
const (
	Neck     = "neck triangle"
	Thigh    = "back of the thigh"
	Pectoral = "pectoral"
	Gluteal  = "gluteal"
	Jugular  = "jugular, upper third"
	Fold     = "loose skin of the neck"
	Cephalic = "cephalic"
	Facial   = "transverse facial sinus"
	Thoracic = "lateral thoracic"
)

// NeedleSite is a place for a needle, in words that a person can find on this horse.
type NeedleSite struct {
	Key    string
	Routes []exam.Route // of an injection; empty where blood only is drawn
	Draw   bool         // blood may be drawn here
	Sides  []exam.Site
	// Find says where it is, Stand where to stand, For and Against what speaks for
	// and against it.
	Find    string `words:"find"`
	Stand   string `words:"stand"`
	For     string `words:"for"`
	Against string `words:"against"`
	// Warning is shown before the site is taken; Last says that it is never
	// proposed, only chosen.
	Warning string `words:"warning"`
	Last    bool

	Source   string
	Evidence exam.Evidence
}

// Sites lists every site, in the order in which the trade commonly tries them:
// neck, back of the thigh, pectoral (AAEP's page for owners on vaccination).
func Sites() []NeedleSite { return sites() }

func builtInSites() []NeedleSite {
	sides := []exam.Site{exam.Left, exam.Right}
	im := []exam.Route{exam.RouteIM}
	return []NeedleSite{
		{
			Key: Neck, Routes: im, Sides: sides,
			Find: "In front of the shoulder blade: an open hand below the crest, a closed hand above the neck bones. " +
				"The bones run low, in an S. The safe area is about an open hand, near the shoulder.",
			Stand: "At the shoulder, handler on your side.", For: "Safest place to stand; easy to reach.",
			Against: "A sore neck stops grazing; nerves and spine are near if it festers.",
			Source:  "AAEP, ask the vet: vaccinology; where it lies: a practice (greenelewis.com)", Evidence: ranges.PracticePage,
		},
		{
			Key: Thigh, Routes: im, Sides: sides,
			Find:  "The muscle at the back of the thigh; keep out of the groove between the muscles.",
			Stand: "To the side, close, never straight behind; handler on your side.", For: "Large, well supplied, drains well.",
			Against: "Within reach of a kick; the sciatic nerve runs near the groove.",
			Source:  "AAEP, ask the vet: vaccinology; a practice's page on injection sites (atlantaequine.com)", Evidence: ranges.PracticePage,
		},
		{
			Key: Pectoral, Routes: im, Sides: sides,
			Find:  "The belly of the muscle between the forelegs, to one side of the middle.",
			Stand: "Beside the foreleg, not in front of it.", For: "Drains well.",
			Against: "Small; swells; generally not advised for most vaccines.",
			Source:  "a practice's page on injection sites (atlantaequine.com); AAEP, snake bite page", Evidence: ranges.PracticePage,
		},
		{
			Key: Gluteal, Routes: im, Sides: sides, Last: true,
			Find:  "The middle of the muscle on the croup.",
			Stand: "Beside the hip, close; never straight behind.", For: "Easy; well supplied.",
			Against: "An abscess there cannot drain.",
			Warning: "Most sources avoid the croup: an abscess there cannot drain. Only if the veterinarian says so.",
			Source:  "The Veterinary Care of the Horse, p. 1133; Complications in Equine Surgery", Evidence: ranges.Published,
		},
		{
			Key: Jugular, Routes: []exam.Route{exam.RouteIV}, Draw: true, Sides: sides,
			Find: "The groove of the neck, upper third: a muscle lies there between the vein and the carotid artery. Six to eight inches below the " +
				"throat-latch. Press below with the thumb to occlude the vein; wait until it fills.",
			Stand: "At the shoulder, handler on your side.", For: "The muscle between vein and artery.",
			Against: "The carotid is most easily hit in the lower two thirds of the neck.",
			Source:  "Dechant, in Complications in Equine Surgery, ch. 3; Extension Horses; the muscle between from memory", Evidence: ranges.FromMemory,
		},
		{
			Key: Fold, Routes: []exam.Route{exam.RouteSC}, Sides: sides,
			Find:  "A fold of loose skin lifted on the side of the neck, in front of the shoulder.",
			Stand: "At the shoulder, handler on your side.", For: "Loose skin; safest place to stand.", Against: "No source read names one.",
			Source: "common practice", Evidence: ranges.CommonPractice,
		},
		{
			Key: Cephalic, Draw: true, Sides: sides,
			Find: "The vein on the inside of the forearm.", Stand: "Beside the shoulder, on your feet.", For: "No artery lies beside it.",
			Against: "Beside the foreleg.", Source: "Dechant, in Complications in Equine Surgery, ch. 3; where it runs from memory", Evidence: ranges.FromMemory,
		},
		{
			Key: Thoracic, Draw: true, Sides: sides,
			Find: "The vein behind the elbow, along the lower chest.", Stand: "At the shoulder, facing the tail.", For: "No artery lies beside it.",
			Against: "Within reach of a cow kick.", Source: "Dechant, in Complications in Equine Surgery, ch. 3; where it runs from memory", Evidence: ranges.FromMemory,
		},
		{
			Key: Facial, Draw: true, Sides: sides,
			Find: "Under the bony ridge of the cheek, below the inner corner of the eye.", Stand: "Beside the head, not before it.",
			For: "Small samples.", Against: "A few milliliters at most.", Source: "from memory", Evidence: ranges.FromMemory,
		},
	}
}

// For lists the sites of a route, those never proposed last.
func For(route exam.Route) []NeedleSite {
	var out, last []NeedleSite
	for _, s := range Sites() {
		if !s.takes(route) {
			continue
		}
		if s.Last {
			last = append(last, s)
			continue
		}
		out = append(out, s)
	}
	return append(out, last...)
}

// ForBlood lists the sites where blood is drawn.
func ForBlood() []NeedleSite {
	var out []NeedleSite
	for _, s := range Sites() {
		if s.Draw {
			out = append(out, s)
		}
	}
	return out
}

func (s NeedleSite) takes(route exam.Route) bool {
	for _, r := range s.Routes {
		if r == route {
			return true
		}
	}
	return false
}
