package sums

import (
	"fmt"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/procedure"
	"loosebox/exam/volume"
)

// Blood is how much blood an animal has, and what the limits leave of it.
type Blood struct {
	Blood   volume.Blood
	Weight  volume.Weight
	Unsure  bool               // of one draw in the record nobody could say how much it was
	Tubes   []volume.BloodTube // in the order of draw
	source  []string
	nothing bool // nothing is known of draws before
}

// What the command asks: the draws before by a longer name, and the tubes.
const (
	keyDrawn = "drawn-14d"
	keyTubes = "tubes"
)

func blood() Sum {
	return Sum{
		ID: "blood", Name: "blood", Does: "how much there is and may be drawn",
		Begin: func(in In) Values {
			v := beginBody(in)
			if !in.Known() {
				v[keyKind] = string(exam.AnimalHorse)
			}
			return v
		},
		Work: workBlood, Fields: bloodFields,
		Flags: []Field{{Key: keyTubes, Several: true, Ask: "blood culture, citrate, serum, heparin, EDTA, fluoride; separated by commas"}},
	}
}

func bloodFields(in In) []Field {
	fields := append(animalFields(in), bodyFields(in, true)...)
	fields = append(fields, Field{Key: "draw", Label: "this draw", Ask: "the draw in hand, 30mL; empty for none", Check: refusing(volume.ParseML)})
	if !in.Known() {
		fields = append(fields, Field{Key: keyDrawn, Label: "drawn before", Ask: "what was drawn in the last 14 days before it, 60mL; empty where it is not known", Check: refusing(volume.ParseML)})
	}
	return fields
}

func workBlood(in In, v Values) (Outcome, error) {
	w, err := neededWeight(in, v)
	if err != nil {
		return nil, err
	}
	h, err := animal(in, v)
	if err != nil {
		return nil, err
	}
	ml := 0.0
	if v.Get("draw") != "" {
		if ml, err = volume.ParseML(v.Get("draw")); err != nil {
			return nil, fmt.Errorf("this draw: %w", err)
		}
	}
	b := Blood{Weight: w, source: weightSource(w, in)}
	var past volume.Past
	switch {
	case v.Get(keyDrawn) != "":
		before, err := volume.ParseML(v.Get(keyDrawn))
		if err != nil {
			return nil, fmt.Errorf("drawn before: %w", err)
		}
		past = volume.Past{KnownDays: 14, Draws: []volume.Draw{{At: in.Now, ML: before}}}
	case in.Known():
		past, b.Unsure = procedure.PastDraws(in.Visits, in.Now)
		b.source = append(b.source, "drawn before: as the record has it; what was drawn elsewhere is not in it")
	default:
		b.nothing = true
	}
	b.Blood, err = volume.BloodOf(volume.Animal{Kind: h.Kind, Young: exam.ClassOf(h, in.Now).Young, Breed: h.Breed}, w.Kg, ml, past, in.Now)
	if err != nil {
		return nil, err
	}
	var kinds []exam.TubeKind
	if text := v.Get(keyTubes); text != "" {
		for _, kind := range strings.Split(text, ",") {
			kinds = append(kinds, exam.TubeKind(kind))
		}
	}
	if b.Tubes, err = volume.InOrder(kinds); err != nil {
		return nil, fmt.Errorf("--%s: %w", keyTubes, err)
	}
	return b, nil
}

// Warnings are those of the draw and of the weight.
func (b Blood) Warnings() []string {
	return append(append([]string{}, b.Blood.Warnings...), texts(b.Weight.Warnings())...)
}

// Result says how much blood there is, what the draw takes and what the limits leave.
func (b Blood) Result() Result {
	r := Result{Head: fmt.Sprintf("about %s L of blood, %s mL/kg: %s", notation.FormatNumber(b.Blood.VolumeML/1000, 1), volume.Plain(b.Blood.Type.MLPerKg), b.Blood.Type.Whom)}
	if b.Blood.DrawML > 0 {
		r.More = append(r.More, fmt.Sprintf("this draw: %s mL, %s %% of it", volume.Plain(b.Blood.DrawML), volume.Share(b.Blood.DrawPercent)))
	}
	for _, l := range b.Blood.Limits {
		if l.Warns {
			r.More = append(r.More, limitLine(l))
		}
	}
	r.Working = []string{
		b.Weight.Line(),
		fmt.Sprintf("%s kg x %s mL/kg = %s mL", volume.Plain(b.Weight.Kg), volume.Plain(b.Blood.Type.MLPerKg), volume.Plain(b.Blood.VolumeML)),
	}
	r.Warnings = b.Warnings()
	if b.Unsure {
		r.Warnings = append(r.Warnings, "the amount of one draw in the record is not known")
	}
	r.Source = append(b.Blood.Explain(), b.source...)
	return r
}

func limitLine(l volume.LimitState) string {
	text := fmt.Sprintf("%s %% of %s in %s days: %s mL", volume.Plain(l.Percent), l.Of, volume.Plain(l.Days), volume.Plain(l.ML))
	if !l.HasDrawn {
		return text + "; what was drawn before is not known"
	}
	return text + fmt.Sprintf(", %s drawn, %s left", volume.Plain(l.DrawnML), volume.Plain(l.LeftML))
}
