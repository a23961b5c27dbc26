package order

import (
	"fmt"
	"time"

	"loosebox/exam"
	"loosebox/exam/explain"
	"loosebox/exam/notation"
	"loosebox/exam/procedure"
	"loosebox/exam/volume"
)

// WatchSource says what the minutes of a watch rest on.
const WatchSource = "no source fixes the time; 15 to 30 minutes are common practice (from memory)"

// Sources says where the numbers of an order that is being filled in come from.
func (o *Draft) Sources() []explain.Section {
	ml, from := o.volume()
	w := o.bodyWeight()
	so := exam.Order{
		Dose: o.Get(Dose), Strength: o.Get(Strength), Route: o.Route(), VolumeML: ml, VolumeFrom: from, WeightKg: w.Kg, WeightFrom: weightFrom(w, o.at.Now()),
	}
	out := InjectionSources(so, o.at.Rules, o.at.Units)
	worked := o.Working()
	lines := append(worked.Lines, worked.Warnings...)
	if s, err := o.syringe(); err == nil && ByMass(so.Dose) {
		lines = append(lines, fmt.Sprintf("marks of the syringe of %s: %s (%s); the one in the hand decides", s.Name, s.Source, s.Evidence))
	}
	if out[0].Lines = append(out[0].Lines, lines...); so.VolumeFrom == "" {
		out[0].Lines = append(out[0].Lines, "Nothing is worked out: the label or the veterinarian says the volume.")
	}
	return out
}

// InjectionSources says where the numbers of an injection come from: its volume,
// the limit of a site, needles and sites of its route, the watch.
func InjectionSources(o exam.Order, rules procedure.Rules, units notation.Units) []explain.Section {
	var lines []string
	add := func(format string, texts ...any) { lines = append(lines, fmt.Sprintf(format, texts...)) }
	if o.VolumeML > 0 && o.VolumeFrom != "" {
		add("%s mL: %s", volume.Plain(o.VolumeML), o.VolumeFrom)
	}
	if o.Dose != "" {
		add("dose as ordered: %s", o.Dose)
	}
	if o.Strength != "" {
		add("strength of the label: %s", o.Strength)
	}
	if o.WeightKg > 0 {
		add("weight %s, %s", units.Of(notation.Quantity{Value: o.WeightKg, Unit: notation.Kilograms}).Text(2), o.WeightFrom)
	}
	if ByMass(o.Dose) {
		lines = append(lines, volume.DoseSource()...)
	}
	out := []explain.Section{{Head: "Volume", Lines: lines}}
	if o.Route == exam.RouteIM {
		l := rules.SiteLimit()
		out = append(out, explain.Section{Head: "Limit of one muscle", Lines: []string{
			fmt.Sprintf("asked above %s mL: %s (%s)", volume.Plain(l.ML), l.Source, l.Evidence),
			"There is no agreed number; the label and the veterinarian decide.",
		}})
	}
	out = append(out, needles(o.Route)...)
	out = append(out, sites(procedure.For(o.Route))...)
	return append(out, WatchSources()...)
}

// WatchSources says what the minutes of a watch rest on, and what may be seen in it.
func WatchSources() []explain.Section {
	return []explain.Section{
		{Head: "Observation", Lines: []string{"the minutes are the practice's own, or those that were typed", WatchSource}},
		{Head: "Normal after an injection", Lines: []string{procedure.ExpectedSource}},
	}
}

// DangerSources says where the signs of danger were read.
func DangerSources() []explain.Section {
	lines := make([]string, 0, len(procedure.Dangers()))
	for _, d := range procedure.Dangers() {
		lines = append(lines, fmt.Sprintf("%s: %s (%s)", d.Title, d.Sources, d.Evidence))
	}
	return append([]explain.Section{{Head: "Signs", Lines: lines}}, WatchSources()[1:]...)
}

// DrawNeedle is the needle of a draw, and DrawNeedleSource the hospital's own
// instruction that has it (calculations and procedures, section 2.4).
const (
	DrawNeedle       = "18 to 21 G, 1 to 1.5 in"
	DrawNeedleSource = "a hospital's own instruction: newcastleequinecentre.net.au, collection of blood (published)"
)

// Sources says where the numbers of a draw that is being ordered come from.
func (b *BloodSheet) Sources() []explain.Section {
	kg := 0.0
	if q, err := volume.ParseWeight(b.Get(Weight)); err == nil {
		in, _ := q.In(notation.Kilograms)
		kg = in.Value
	}
	return DrawSources(b.at.Stand, kg, b.TotalML(), b.at.Now())
}

// DrawSources says where the numbers of a blood draw come from: the blood of the
// horse and how much may go, the tubes, the needle, the vein. Kg is 0 where no
// weight is known.
func DrawSources(s Stand, kg, ml float64, now time.Time) []explain.Section {
	limits := []string{"Without a weight there is no blood limit."}
	if kg > 0 {
		blood, _, err := bloodOf(s, kg, ml, now)
		if limits = blood.Explain(); err != nil {
			limits = []string{err.Error()}
		}
	}
	tubes := []string{"order of draw: " + volume.OrderSource}
	for _, t := range volume.BloodTubes() {
		tubes = append(tubes, fmt.Sprintf("%s: %s; %s. %s (%s)", t.Kind, t.Fill, t.Mix, t.Source, t.Evidence))
	}
	out := []explain.Section{{Head: "How much blood", Lines: limits}, {Head: "Needle", Lines: []string{DrawNeedle + ": " + DrawNeedleSource}}, {Head: "Tubes", Lines: tubes}}
	return append(out, sites(procedure.ForBlood())...)
}

func needles(route exam.Route) []explain.Section {
	var lines []string
	for _, n := range procedure.Needles() {
		if n.Route == route {
			lines = append(lines, fmt.Sprintf("%s G, %s: %s (%s)", n.Gauge, n.Length, n.Source, n.Evidence))
		}
	}
	if lines == nil {
		return nil
	}
	return []explain.Section{{Head: "Needles", Lines: lines}}
}

func sites(list []procedure.NeedleSite) []explain.Section {
	if len(list) == 0 {
		return nil
	}
	lines := make([]string, len(list))
	for i, s := range list {
		lines[i] = fmt.Sprintf("%s: %s (%s)", exam.NeedlePlace{Site: s.Key}, s.Source, s.Evidence)
	}
	return []explain.Section{{Head: "Sites", Lines: lines}}
}
