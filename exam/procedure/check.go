package procedure

import (
	"fmt"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// CheckPoint is one point of a check list.
type CheckPoint struct {
	Key    string
	Asks   string
	Shown  string // what the record holds to check it by
	Routes []exam.Route
}

// CheckSource is where the points come from.
const CheckSource = "the five rights (patient, product, dose, route, time) that nurses and technicians learn, and a second person for the arithmetic: common practice; " +
	"the rest: what rules of records ask for"

// SecondPerson is the point whose words are the name of the second person, or
// exam.NobodyElse.
const SecondPerson = "second person"

// CheckList is the list before an injection, each point with what the record
// shows to check it by.
func CheckList(h exam.Horse, o exam.Order, d exam.Decided, now time.Time) []CheckPoint {
	return []CheckPoint{
		{Key: "horse", Asks: PointAsks("horse"), Shown: identity(h)},
		{Key: "product", Asks: PointAsks("product"), Shown: phrase(o.Product, o.Active, o.Strength)},
		{Key: "dose", Asks: PointAsks("dose"), Shown: phrase(o.Dose, inML(o.VolumeML), sumWords(o, d))},
		{Key: SecondPerson, Asks: PointAsks(SecondPerson), Shown: phrase(inML(o.VolumeML), o.VolumeFrom)},
		{Key: "route", Asks: PointAsks("route"), Shown: o.Route.String()},
		{Key: "time", Asks: PointAsks("time"), Shown: now.Format(notation.DayShown + " 15:04")},
		{Key: "expiry", Asks: PointAsks("expiry"), Shown: phrase("lot "+o.Lot, "to "+notation.Shown(o.Expiry.Last))},
		{Key: "decision", Asks: PointAsks("decision"), Shown: phrase(d.Vet, d.How.String(), `"`+d.Words+`"`)},
		{Key: "reactions", Asks: PointAsks("reactions"), Shown: orNone(strings.Join(h.Reactions, "; "), "none is recorded")},
		{Key: "food", Asks: PointAsks("food"), Shown: foodWords(o)},
		{Key: "handler", Asks: PointAsks("handler"), Shown: orNone(strings.Join(h.Cautions, "; "), "no caution is recorded")},
	}
}

// identity is what the horse is known by; its name stands on no horse.
func identity(h exam.Horse) string {
	switch known := phrase(chip(h.Chip), h.Colour, h.Markings); {
	case known == "":
		return phrase(h.Name, "nothing is recorded to identify it")
	case h.Chip == "":
		return phrase(h.Name, known) + "; no chip number is in the record"
	default:
		return phrase(h.Name, known)
	}
}

func chip(number string) string {
	if number == "" {
		return ""
	}
	return "chip " + number
}

// sumWords works the volume out again from the order's dose, strength and weight:
// the sum that the gate holds the volume to. Of a whole dose the label says it.
func sumWords(o exam.Order, d exam.Decided) string {
	c, _ := d.Cover(exam.Procedure{Kind: exam.Injecting, Product: o.Product, Route: o.Route})
	sum, err := o.Sum(c.Sites)
	if err != nil || sum.How == o.Dose+" = "+o.Dose {
		return ""
	}
	if o.MarkML > 0 {
		return fmt.Sprintf("%s, marks of %s mL", sum.How, notation.Plain(o.MarkML))
	}
	return sum.How
}

func inML(ml float64) string {
	if ml <= 0 {
		return ""
	}
	return notation.FormatNumber(ml, 3) + " mL"
}

func foodWords(o exam.Order) string {
	if o.NotForFoodTo != "" {
		return "withdrawal until " + notation.Shown(o.NotForFoodTo)
	}
	return ""
}

func phrase(parts ...string) string {
	var out []string
	for _, p := range parts {
		if strings.TrimSpace(strings.Trim(p, `"`)) != "" {
			out = append(out, p)
		}
	}
	return strings.Join(out, ", ")
}

func orNone(text, none string) string {
	if text == "" {
		return none
	}
	return text
}

// VeinQuestion is one thing to see before anything goes into a vein; any other
// answer than Good means: needle out, and tell the veterinarian where Tell is set.
type VeinQuestion struct {
	Key       string
	Asks      string `words:"asks"`
	Good      string `words:"good"`
	Otherwise string `words:"otherwise"`
	Tell      bool
	Source    string
	Evidence  exam.Evidence
}

// VeinQuestions lists them in the order in which they are asked.
func VeinQuestions() []VeinQuestion { return veinQuestions() }

func builtInVeinQuestions() []VeinQuestion {
	const dechant = "Dechant, in Complications in Equine Surgery, ch. 3"
	return []VeinQuestion{
		{"third", "Upper third of the neck?", "yes", "Needle out; begin again higher.", false, dechant, ranges.Published},
		{"seated", "Needle seated to the hub, in line with the vein?", "yes", "Needle out. Occlude the vein again and let it fill.", false, dechant, ranges.Published},
		{"drips", "What does the blood do, syringe off?", "drips, dark, does not pulse", "Pulsing or bright: needle out, press, give nothing, tell the vet.", true, dechant, ranges.Published},
		{"back", "Does blood come back into the syringe, before and in the middle?", "yes", "Stop; leave no more there; tell the vet.", true, "common practice", ranges.CommonPractice},
	}
}

// OfficialSample says when the law lets only the accredited veterinarian draw: the
// EIA (Coggins) sample in the USA. The words of the purpose decide.
func OfficialSample(purpose string) (string, bool) {
	p := " " + strings.ToLower(notation.CleanLine(purpose, 0)) + " "
	for _, word := range []string{"eia", "coggins", "infectious anaemia", "infectious anemia"} {
		if strings.Contains(p, word) {
			return "USA: the Category II accredited veterinarian who signs the form draws this sample " +
				"(USDA APHIS, tips for accredited veterinarians, 2024). Enter who draws it.", true
		}
	}
	return "", false
}

// ManySticks is the number of needles in one draw that needs thought, not another
// needle (newcastleequinecentre.net.au, collection of blood).
const ManySticks = 5

// Sticks says so where a draw has come to it.
func Sticks(d exam.Draw) (string, bool) {
	if len(d.Sticks) < ManySticks {
		return "", false
	}
	return fmt.Sprintf("%d needle attempts already: stop; somebody else, or another day.", len(d.Sticks)), true
}
