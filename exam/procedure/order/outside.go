package order

import (
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/procedure"
)

// The fields of an injection by the veterinarian's hand or word.
const (
	Why       = "why without a decision"
	OrderedBy = "ordered by"
	OrderedTo = "ordered how"
	What      = "emergency"
	Product   = "product"
	InML      = "given"
	Where     = "site"
	When      = "given at"
)

// Outside is an injection that the veterinarian gave with their own hands, or
// ordered aloud in an emergency, while it is written down after it was given.
type Outside struct {
	Answers
	at *Job
}

// NewOutside begins it.
func NewOutside(at *Job) *Outside {
	o := &Outside{Answers: Answers{}, at: at}
	o.Put(Why, string(exam.OwnHands))
	o.Put(OrderedTo, string(exam.Here))
	o.Put(Route, string(exam.RouteIV))
	o.Put(GivenBy, at.Person)
	return o
}

func (o *Outside) emergency() bool { return o.Get(Why) == string(exam.Emergency) }

// Fields are its questions.
func (o *Outside) Fields() []Field {
	calm := func() bool { return !o.emergency() }
	how := []exam.Choice{{Key: string(exam.Here), Words: exam.Here.String()}, {Key: string(exam.ByTelephone), Words: exam.ByTelephone.String()}}
	return []Field{
		{Key: Why, Label: "it was", Ask: "How was it?", Choices: []exam.Choice{
			{Key: string(exam.OwnHands), Words: exam.OwnHands.String(), Hint: "with their own hands; nobody else gave it"},
			{Key: string(exam.Emergency), Words: exam.Emergency.String(), Hint: "only if there was no time to save a decision; the veterinarian confirms it"},
		}},
		{Key: OrderedBy, Label: "veterinarian", Ask: "Which veterinarian?", Limit: 60, Check: Named("say which veterinarian it was, by name"), Hint: o.hintVet},
		{Key: OrderedTo, Label: "order came", Ask: "How did the order come?", Choices: how, Hidden: calm},
		{Key: What, Label: "emergency", Ask: "What was the emergency?", Limit: 160, Hidden: calm, Check: Needed("say in a few words what the emergency was")},
		{Key: Product, Label: "product", Ask: "Which product?", Limit: 120, Check: Needed("say which product it was")},
		{Key: Lot, Label: "lot", Ask: "Lot number, as on the label? Empty where it is not known.", Limit: 60},
		{Key: Expiry, Label: "expiry", Ask: "Expiry, as on the label?", Limit: 40, Check: readableExpiry, Hint: o.hintExpired, Hidden: unscanned(o.Answers, Expiry)},
		itemField(o.Answers), serialField(o.Answers),
		{Key: Route, Label: "route", Ask: "Route?", Choices: routes()},
		{Key: Dose, Label: "dose ordered", Ask: "Dose that was ordered, with its unit?", Limit: 40, Hidden: calm, Check: func(text string) error {
			_, err := notation.ReadDose(text)
			return err
		}, Hint: func(string) string { return "as it was said: 5 mL, 500 mg, 1 mg/kg" }},
		{Key: Strength, Label: "strength", Ask: "Strength, as on the label? Empty where it is not known.", Limit: 60, Hidden: calm},
		{Key: InML, Label: "given, mL", Ask: "How many mL went in? Or: " + NotKnown + ".", Limit: 20, Check: checkWentIn, Hint: func(string) string { return "in mL; or: " + NotKnown }},
		{Key: Where, Label: "site", Ask: "At which site and side?", Limit: 60, Hint: func(string) string { return "as neck triangle, left; empty where nobody saw it" }},
		{Key: When, Label: "given at", Ask: "At what time, as 14:05? Enter alone: now.", Limit: 5, Check: o.checkWhen, Hint: func(string) string { return "as 14:05; empty: now" }},
		{Key: GivenBy, Label: "your name", Ask: "Your name? For an order aloud: who gave it.", Limit: 60, Check: Named("type your name or initials; every entry carries it")},
	}
}

// hintVet says what follows where one name stands for both.
func (o *Outside) hintVet(text string) string {
	if !sameProduct(text, o.Get(GivenBy)) {
		return "by name; the person who enters it comes last"
	}
	return "Check: your own name: tell the vet; a decision must confirm it"
}

func checkWentIn(text string) error {
	if ml, known := ReadAmount(text); known && ml <= 0 {
		return &notation.Refusal{Typed: text, Why: "nothing went in? Then there is nothing to save"}
	}
	return CheckAmount(text)
}

func (o *Outside) checkWhen(text string) error {
	_, err := o.when(text)
	return err
}

// when is the last such time of day; nil for now.
func (o *Outside) when(text string) (*time.Time, error) {
	if notation.CleanLine(text, 0) == "" {
		return nil, nil
	}
	clock, err := time.Parse("15:04", notation.CleanLine(text, 5))
	if err != nil {
		return nil, &notation.Refusal{Typed: text, Why: "a time of day is written like 14:05"}
	}
	now := o.at.Now()
	at := time.Date(now.Year(), now.Month(), now.Day(), clock.Hour(), clock.Minute(), 0, 0, now.Location())
	if at.After(now) {
		at = at.AddDate(0, 0, -1)
	}
	return &at, nil
}

// place is the site that was typed: one of the list of its route, or else in words.
func (o *Outside) place() exam.NeedlePlace {
	typed := o.Get(Where)
	for _, site := range procedure.For(exam.Route(o.Get(Route))) {
		for _, side := range site.Sides {
			if p := (exam.NeedlePlace{Site: site.Key, Side: side}); strings.EqualFold(p.String(), typed) {
				return p
			}
		}
	}
	return exam.NeedlePlace{Site: typed}
}

// Line is the injection as it is written down: one line, by whom GivenBy says.
// The error is an *notation.Refusal.
func (o *Outside) Line() (exam.InjectionLine, error) {
	for _, f := range o.Fields() {
		if err := f.Refused(o.Get(f.Key)); err != nil && !f.Off() {
			return exam.InjectionLine{}, err
		}
	}
	ml, known := ReadAmount(o.Get(InML))
	at, err := o.when(o.Get(When))
	if err != nil {
		return exam.InjectionLine{}, err
	}
	expiry, _ := notation.ReadExpiry(o.Get(Expiry)) // it was checked, or is empty
	order := &exam.Order{
		Product: o.Get(Product), Lot: o.Get(Lot), Expiry: expiry, Item: itemOf(o.Answers), Serial: o.Get(Serial),
		Active: o.Get(Active), Strength: o.Get(Strength), Maker: o.Get(Maker), Against: o.against(), Route: exam.Route(o.Get(Route)), Without: exam.Without(o.Get(Why)), Vet: o.Get(OrderedBy),
	}
	if w := o.at.Weight(o.at.Now()); o.emergency() {
		order.How, order.Emergency, order.Dose, order.Strength = exam.Means(o.Get(OrderedTo)), o.Get(What), o.Get(Dose), o.Get(Strength)
		order.WeightKg, order.WeightFrom = w.Kg, weightFrom(w, o.at.Now())
		if sum, err := order.Sum(0); err == nil {
			order.VolumeML, order.VolumeFrom = sum.ML, "worked out: "+sum.How
		}
	}
	return exam.InjectionLine{
		Number: len(o.at.Visit.Injections) + 1, Phase: exam.InjectionGiven, Order: order, VolumeML: ml, NotKnown: !known, Place: o.place(), GivenAt: at,
		Afterwards: true,
	}, order.CheckWithout(o.Get(GivenBy))
}
