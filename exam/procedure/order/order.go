package order

import (
	"fmt"
	"slices"
	"strings"

	"loosebox/exam"
	"loosebox/exam/due"
	"loosebox/exam/notation"
	"loosebox/exam/procedure"
	"loosebox/exam/volume"
)

// The fields of an order.
const (
	Active     = "active ingredient"
	Strength   = "strength"
	Maker      = "maker"
	Lot        = "lot"
	Expiry     = "expiry"
	Item       = "item number"
	Serial     = "serial"
	Route      = "route"
	Dose       = "dose"
	Weight     = "weight"
	Syringe    = "syringe"
	Volume     = "volume"
	Against    = "against"
	NextDue    = "next due"
	Food       = "not for food"
	Tag        = "tag"
	Cert       = "certificate"
	GivenBy    = "given by"
	Supervised = "supervised by"
	Witness    = "witness"
)

const rabies = "rabies"

// Draft is an order of an injection while it is filled in. The product, and the
// route where the decision names one, are the decision's and are not asked again.
type Draft struct {
	Answers
	Cover  exam.CoveredProcedure
	at     *Job
	weight volume.Weight
	table  []volume.Syringe
	due    *due.Table
}

// NewDraft begins an order of what a decision covers. What the horse's last dose
// of the same product says of the product stands in it already; lot and expiry
// are read from the label each time.
func NewDraft(at *Job, c exam.CoveredProcedure) *Draft {
	o := &Draft{Answers: Answers{}, Cover: c, at: at, weight: at.Weight(at.Now()).As(at.Units), table: at.Syringes}
	if o.table == nil {
		o.table = volume.Syringes()
	}
	o.due, _ = due.BuiltIn() // its own test reads it; without it no disease is asked
	o.Put(Dose, c.Dose)
	o.Put(Route, string(c.Route))
	if c.Route == "" {
		o.Put(Route, string(exam.RouteIM))
	}
	o.Put(GivenBy, at.Person)
	if o.weight.Kg > 0 {
		o.Put(Weight, o.weight.Text())
	}
	o.Put(Syringe, o.table[0].Name)
	o.fromLast()
	o.Put(Syringe, o.proposedSyringe())
	return o
}

// fromLast takes over what does not change between two packs of one product.
func (o *Draft) fromLast() {
	for _, v := range o.at.All {
		for _, i := range slices.Backward(v.Injections) {
			if !strings.EqualFold(i.Order.Product, o.Cover.Product) || i.State == exam.InjectionNoted {
				continue
			}
			o.Put(Active, i.Order.Active)
			o.Put(Strength, i.Order.Strength)
			o.Put(Maker, i.Order.Maker)
			o.Put(Against, strings.Join(i.Order.Against, ","))
			return
		}
	}
}

// Fields are the questions of the order, in the order in which they are asked.
func (o *Draft) Fields() []Field {
	vaccine := func() bool { return o.Get(Against) == "" }
	notRabies := func() bool { return !slices.Contains(o.against(), rabies) }
	return []Field{
		{Key: Lot, Label: "lot", Ask: "Lot number, as on the label?", Limit: 60, Check: Needed("the lot number stands on the label; without it nothing is given")},
		{Key: Expiry, Label: "expiry", Ask: "Expiry, as on the label (02/27 or 15 Feb 2027)?", Limit: 40, Check: o.checkExpiry, Hint: o.hintExpiry},
		itemField(o.Answers), serialField(o.Answers),
		{Key: Active, Label: "active ingr.", Ask: "Active ingredient?", Limit: 120},
		{Key: Strength, Label: "strength", Ask: "Strength, as on the label (50 mg/mL)?", Limit: 60, Hint: o.hintStrength},
		{Key: Maker, Label: "maker", Ask: "Maker?", Limit: 80},
		{Key: Route, Label: "route", Ask: "Route?", Choices: routes(), Hidden: func() bool { return o.Cover.Route != "" }},
		{Key: Dose, Label: "dose ordered", Ask: "Dose as ordered, with its unit (2.2 mg/kg, 1100 mg, 2 mL, 1 dose)?", Limit: 40, Check: o.checkDose, Hint: o.hintDose},
		{Key: Weight, Label: "weight", Ask: "Body weight, with its unit?", Limit: 20, Check: o.checkWeight, Hint: o.hintWeight},
		{Key: Syringe, Label: "syringe", Ask: "Syringe in the hand?", Choices: o.syringes(), Proposed: o.proposedSyringe, Hidden: func() bool { return !o.measured() }},
		{Key: Volume, Label: "volume in mL", Ask: "Volume to be given?", Limit: 20, Check: o.checkVolume, Hint: o.hintVolume},
		{Key: Against, Label: "vaccine against", Ask: "A vaccine against what? None for any other product.", Choices: o.diseases(), Many: true},
		{Key: NextDue, Label: "next due", Ask: "Next due, as the veterinarian or the label says (4 Mar 2027)?", Limit: 20, Check: o.checkComing, Hint: o.hintDay, Hidden: vaccine},
		{Key: Tag, Label: "rabies tag", Ask: "Number of the rabies tag?", Limit: 40, Hidden: notRabies},
		{Key: Cert, Label: "certificate", Ask: "Number of the rabies certificate?", Limit: 40, Hidden: notRabies},
		{Key: Food, Label: "withdrawal to", Ask: "Last day of the withdrawal time, from the veterinarian?", Limit: 10, Check: o.checkComing, Hint: o.hintWithdrawal},
		{Key: GivenBy, Label: "given by", Ask: "Given by?", Limit: 60, Check: Named("the record of a dose says who gives it, by name")},
		{Key: Supervised, Label: "supervised by", Ask: "Supervised by?", Limit: 60, Check: NamedIfAny("type the name of who supervises"), Hint: o.hintSupervised},
		{Key: Witness, Label: "witness", Ask: "Witness, where one is asked for?", Limit: 60, Check: o.checkWitness},
	}
}

func routes() []exam.Choice {
	out := make([]exam.Choice, len(exam.Routes()))
	for i, r := range exam.Routes() {
		out[i] = exam.Choice{Key: string(r), Words: r.String()}
	}
	return out
}

func (o *Draft) syringes() []exam.Choice {
	out := make([]exam.Choice, len(o.table))
	for i, s := range o.table {
		hint := fmt.Sprintf("marks of %s mL, %s", volume.Plain(s.MarkML), s.Evidence)
		out[i] = exam.Choice{Key: s.Name, Words: s.Name, Hint: hint + "; the smallest that will do is proposed, the one in the hand decides"}
	}
	return out
}

// checkWitness takes nobody, or somebody else than who gives it.
func (o *Draft) checkWitness(text string) error {
	if text == "" {
		return nil
	}
	return nameOther("the witness", "groom", o.Get(GivenBy))(text)
}

func (o *Draft) diseases() []exam.Choice {
	if o.due == nil {
		return nil
	}
	var out []exam.Choice
	for _, key := range o.due.Diseases() {
		out = append(out, exam.Choice{Key: key, Words: o.due.Name(key)})
	}
	return out
}

// Order is the order as it is filled in; the error is the first refusal of a field.
func (o *Draft) Order() (exam.Order, error) {
	for _, f := range o.Fields() {
		if f.Off() {
			continue
		}
		if err := f.Refused(o.Get(f.Key)); err != nil {
			return exam.Order{}, err
		}
	}
	expiry, err := notation.ReadExpiry(o.Get(Expiry))
	if err != nil {
		return exam.Order{}, err
	}
	dose, err := procedure.ReadDose(o.Get(Dose))
	if err != nil {
		return exam.Order{}, err
	}
	ml, from := o.volume()
	w := o.bodyWeight()
	s := o.inHand()
	out := exam.Order{
		Product: o.Cover.Product, Active: o.Get(Active), Strength: o.Get(Strength), Maker: o.Get(Maker), Lot: o.Get(Lot), Expiry: expiry,
		Item: itemOf(o.Answers), Serial: o.Get(Serial),
		Dose: dose, VolumeML: ml, VolumeFrom: from, WeightKg: w.Kg, WeightFrom: weightFrom(w, o.at.Now()), Route: o.Route(), Against: o.against(),
		SyringeML: s.ML, MarkML: s.MarkML, SupervisedBy: o.Get(Supervised), Witness: o.Get(Witness), NotForFoodTo: o.day(Food), NotForFoodDays: o.days(Food),
	}
	if len(out.Against) > 0 {
		out.NextDue = o.day(NextDue)
	}
	if slices.Contains(out.Against, rabies) {
		out.TagNumber, out.Certificate = o.Get(Tag), o.Get(Cert)
	}
	covering, err := o.at.Covering(out, 0, o.at.Now())
	if err != nil {
		return out, err
	}
	out.Decision = covering.Seq
	return out, out.Check(o.at.Now())
}

// Route is the route of the order.
func (o *Draft) Route() exam.Route { return exam.Route(o.Get(Route)) }
