package order

import (
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/volume"
)

// The fields of a changed order.
const (
	ChangedBy    = "changed by"
	ChangedHow   = "changed how"
	ChangedDose  = "changed dose"
	ChangedOften = "changed how often"
	ChangedWords = "changed words"
)

// Changed is the veterinarian's changed order while it is filled in: a new decision
// for the product of the old one, saved before the order that it lets be given.
type Changed struct {
	Answers
	cover exam.CoveredProcedure
}

// NewChanged begins a changed order for an order that is refused. Who said it last
// and the dose of the order stand in it; the words are written down.
func NewChanged(s Stand, c exam.CoveredProcedure, o exam.Order) *Changed {
	ch := &Changed{Answers: Answers{}, cover: c}
	ch.Put(ChangedHow, string(exam.Here))
	for _, d := range s.Visit.Decisions {
		if d.Corrected {
			continue
		}
		if ch.Put(ChangedBy, d.Vet); d.How != exam.StandingOrder { // that one does not change by word
			ch.Put(ChangedHow, string(d.How))
		}
	}
	dose := o.Dose
	if c.Dose != "" && sameDose(c.Dose, dose) && o.VolumeML > 0 { // only the volume is another
		dose = volume.Plain(o.VolumeML) + " mL"
	}
	ch.Put(ChangedDose, dose)
	return ch
}

// Fields are the questions of a changed order.
func (ch *Changed) Fields() []Field {
	var means []exam.Choice
	for _, m := range exam.AllMeans() {
		means = append(means, exam.Choice{Key: string(m), Words: m.String()})
	}
	return []Field{
		{Key: ChangedWords, Label: "new words", Ask: "What did the veterinarian say? The very words.", Limit: notation.MaxNote, Check: Needed("type the veterinarian's own words")},
		{Key: ChangedBy, Label: "veterinarian", Ask: "Which veterinarian?", Limit: 60, Check: Needed("type the veterinarian's name")},
		{Key: ChangedHow, Label: "how given", Ask: "How was it given?", Choices: means},
		{Key: ChangedDose, Label: "new dose", Ask: "Which dose, with its unit (10 mL, 2.2 mg/kg, 1 dose)?", Limit: 40, Check: func(text string) error {
			_, err := notation.ReadDose(text)
			return err
		}},
		{Key: ChangedOften, Label: "how often", Ask: "How often, or in how many sites? Enter alone: one dose in one site.", Limit: 60, Check: func(text string) error {
			_, err := exam.CoveredProcedure{}.ReadOften(text)
			return err
		}, Hint: func(string) string { return "3 times, 12 h apart; 2 sites; empty: one dose in one site" }},
	}
}

// Cover is what the changed order covers, once every field is good.
func (ch *Changed) Cover() (exam.CoveredProcedure, error) {
	d, err := notation.ReadDose(ch.Get(ChangedDose))
	if err != nil {
		return exam.CoveredProcedure{}, err
	}
	c := ch.cover
	c.Dose = d.Text()
	return c.ReadOften(ch.Get(ChangedOften))
}

// Entry is the new decision.
func (ch *Changed) Entry(id exam.VisitID, by string, at time.Time) (exam.Entry, error) {
	c, err := ch.Cover()
	if err != nil {
		return exam.Entry{}, err
	}
	d := &exam.Decision{
		Words: notation.CleanNote(strings.TrimSpace(ch.Answers[ChangedWords])), Vet: ch.Get(ChangedBy), How: exam.Means(ch.Get(ChangedHow)),
		Ruling: exam.GoAhead, Covers: []exam.CoveredProcedure{c},
	}
	return exam.Entry{Visit: id, Kind: exam.EntryDecision, By: by, At: at, Decision: d}, d.Check()
}

// Same says that two covers are of one product and route.
func Same(a, b exam.CoveredProcedure) bool {
	return sameProduct(a.Product, b.Product) && (a.Route == "" || b.Route == "" || a.Route == b.Route)
}

// Change lets the order go on under a changed one.
func (o *Draft) Change(c exam.CoveredProcedure) {
	o.Cover = c
	if ml, err := volume.ParseML(c.Dose); err == nil && o.Get(Volume) != "" && !exam.WithinRounding(ml, o.typedML(), o.inHand().MarkML) {
		o.Put(Volume, "")
	}
	o.Put(Dose, c.Dose)
}

func (o *Draft) typedML() float64 {
	ml, err := ML(o.Get(Volume))
	if err != nil {
		return 0
	}
	return ml
}
