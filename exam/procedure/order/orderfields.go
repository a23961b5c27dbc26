package order

import (
	"fmt"
	"strconv"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/procedure"
	"loosebox/exam/volume"
)

func (o *Draft) checkExpiry(text string) error {
	e, err := notation.ReadExpiry(text)
	if err != nil {
		return err
	}
	if e.Passed(o.at.Now()) {
		return &notation.Refusal{Typed: e.Typed, Why: "the product expired on " + notation.Shown(e.Last) + ": it is not given; take another pack"}
	}
	return nil
}

func (o *Draft) hintExpiry(text string) string {
	e, err := notation.ReadExpiry(text)
	if err != nil {
		return "as on the label: 02/27 is the end of February 2027"
	}
	if o.at.Behind(o.at.Now()) != "" && e.Passed(o.at.newest()) {
		return "Check: at the day of the newest visit it had expired, on " + notation.Shown(e.Last) + ". Set the clock first"
	}
	return "may be used up to " + notation.Shown(e.Last)
}

func (o *Draft) hintStrength(text string) string {
	_, err := volume.ParseStrength(text)
	d, doseErr := notation.ReadDose(o.Get(Dose))
	switch {
	case err == nil || doseErr != nil || !d.Unit.ByMass() && !d.Activity():
		return ""
	case notation.CleanLine(text, 0) == "" && d.Activity():
		return "1000 IU/mL, as on the label: the volume is worked out with it"
	case notation.CleanLine(text, 0) == "":
		return "50 mg/mL or 1 %: the volume is worked out with it"
	}
	return "Check: " + err.Error()
}

func (o *Draft) checkDose(text string) error {
	_, err := procedure.ReadDose(text)
	return err
}

func (o *Draft) hintDose(text string) string {
	if o.Cover.Dose != "" {
		mark := ""
		if !sameDose(o.Cover.Dose, text) {
			mark = "Check: "
		}
		said := strings.TrimSuffix(o.Cover.Dose+", "+o.Cover.Often(), ", ")
		return fmt.Sprintf("%sthe veterinarian said: %s", mark, said)
	}
	return "as it was ordered, with its unit: 2.2 mg/kg, 1100 mg, 2 mL, 1 dose"
}

func (o *Draft) checkWeight(text string) error {
	if notation.CleanLine(text, 0) == "" {
		if d, err := notation.ReadDose(o.Get(Dose)); err == nil && d.ByWeight() {
			return &notation.Refusal{Why: "a dose in " + string(d.Unit) + " needs the body weight"}
		}
		return nil
	}
	_, err := volume.ParseWeight(text)
	return err
}

func (o *Draft) hintWeight(string) string {
	w := o.bodyWeight()
	if w.Kg <= 0 {
		return "not in the record: weigh or measure it first where it can be done"
	}
	return weightFrom(w, o.at.Now())
}

// bodyWeight is the weight of the record, or another one that was typed.
func (o *Draft) bodyWeight() volume.Weight {
	q, err := volume.ParseWeight(o.Get(Weight))
	if err != nil {
		return volume.Weight{}
	}
	kg, _ := q.In(notation.Kilograms)
	if o.weight.Kg > 0 && o.Get(Weight) == o.weight.Text() {
		return o.weight
	}
	return volume.Weight{Kg: kg.Value, AsTyped: q, Method: asSaid, BeforeKg: o.weight.Kg}
}

// Working is how the volume was found, as far as the order goes.
func (o *Draft) Working() Working {
	s, err := o.syringe()
	if err != nil {
		return Working{Err: err}
	}
	return o.workOut(s)
}

// measured says that the dose is measured out with a syringe: any but the whole
// dose of a label.
func (o *Draft) measured() bool {
	d, err := notation.ReadDose(o.Get(Dose))
	return err == nil && !d.Whole()
}

// inHand is the syringe that was chosen, for the record; none of a whole dose.
func (o *Draft) inHand() volume.Syringe {
	s, err := o.syringe()
	if err != nil || !o.measured() {
		return volume.Syringe{}
	}
	return s
}

func (o *Draft) syringe() (volume.Syringe, error) {
	for _, s := range o.table {
		if s.Name == o.Get(Syringe) {
			return s, nil
		}
	}
	return volume.Syringe{}, &notation.Refusal{Typed: o.Get(Syringe), Why: "which syringe is in the hand?"}
}

// volume is what is to be given: as typed, or else as worked out.
func (o *Draft) volume() (ml float64, from string) {
	w := o.Working()
	typed, err := ML(o.Get(Volume))
	switch {
	case o.Get(Volume) == "" || err != nil:
		return w.ML, w.From
	case w.ML > 0 && !exam.WithinRounding(typed, w.ML, 0):
		return typed, fmt.Sprintf("as typed; worked out %s mL", volume.Plain(w.ML))
	case w.ML > 0:
		return typed, w.From
	}
	return typed, "as typed"
}

func (o *Draft) checkVolume(text string) error {
	if notation.CleanLine(text, 0) != "" {
		ml, err := ML(text)
		if err == nil && ml <= 0 {
			err = &notation.Refusal{Typed: notation.CleanLine(text, 40), Why: "a volume is above 0 mL"}
		}
		return err
	}
	w := o.Working()
	switch {
	case w.ML > 0:
		return nil
	case w.Err != nil:
		return &notation.Refusal{Why: "no volume comes out: " + strings.TrimRight(w.Err.Error(), ".?")}
	}
	return &notation.Refusal{Why: "type the volume in mL, as the label or the veterinarian says"}
}

// hintVolume shows what to look at before it is drawn up, then the working.
func (o *Draft) hintVolume(string) string {
	w := o.Working()
	var parts []string
	ml, from := o.volume()
	if over, is := o.at.Rules.OverLimit(o.Route(), ml); is {
		parts = append(parts, "Check: "+over)
	}
	for _, warning := range w.Warnings {
		parts = append(parts, "Check: "+warning)
	}
	switch {
	case w.Err != nil:
		parts = append(parts, w.Err.Error())
	case ml > 0 && from == w.From:
		parts = append(parts, fmt.Sprintf("%s mL, %s", volume.Plain(ml), from))
	case ml > 0 && w.ML > 0:
		parts = append([]string{fmt.Sprintf("Check: you typed %s mL, and %s mL is worked out. Ask a second person.", volume.Plain(ml), volume.Plain(w.ML))}, parts...)
	case ml <= 0:
		parts = append(parts, "in mL, as the label or the veterinarian says")
	}
	return strings.Join(append(parts, w.Lines...), "\n")
}

func (o *Draft) checkComing(text string) error {
	if notation.CleanLine(text, 0) == "" {
		return nil
	}
	_, err := notation.ReadAhead(text, o.at.Now())
	return err
}

func (o *Draft) hintDay(text string) string {
	day, err := notation.ReadAhead(text, o.at.Now())
	if err != nil {
		return "as 4 Mar 2027, or from today 4w, 6mo, 1y; empty where none is said"
	}
	return "that is " + notation.Shown(day)
}

// day is a day to come as it is stored; empty where none is said.
func (o *Draft) day(key string) string {
	day, err := notation.ReadAhead(o.Get(key), o.at.Now())
	if err != nil {
		return o.Get(key)
	}
	return day
}

// days is a span of days or weeks as it was typed, 28d or 4 weeks; 0 for a date.
func (o *Draft) days(key string) int {
	typed := o.Get(key)
	unit := strings.TrimSpace(strings.TrimLeft(typed, "0123456789"))
	n, err := strconv.Atoi(strings.TrimSpace(strings.TrimSuffix(typed, unit)))
	switch {
	case err != nil || n <= 0:
	case unit == "d", strings.HasPrefix(unit, "day"):
		return n
	case unit == "w", strings.HasPrefix(unit, "week"):
		return 7 * n
	}
	return 0
}

func (o *Draft) hintWithdrawal(text string) string {
	return "the last day of the withdrawal time, from the veterinarian; " + o.hintDay(text)
}

func (o *Draft) hintSupervised(string) string {
	for _, key := range o.against() {
		if key == rabies {
			return "rabies: by a veterinarian, or under one's direct supervision (CDC, animal rabies vaccination)"
		}
	}
	return "the veterinarian, where one stands by"
}

func sameDose(a, b string) bool {
	x, errX := procedure.ReadDose(a)
	y, errY := procedure.ReadDose(b)
	return errX != nil || errY != nil || x == y
}
