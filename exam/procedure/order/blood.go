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

// The fields of a blood draw; that of a tube's size is EachML of its kind.
const (
	For     = "for"
	VetName = "veterinarian"
	Tubes   = "tubes"
	DrawnBy = "drawn by"
)

// EachML is the field of the millilitres that a tube of a kind holds.
func EachML(kind exam.TubeKind) string { return "mL " + string(kind) }

// MostTubes of one kind in one draw; more is a slip.
const MostTubes = 9

func tubeChoices() []exam.Choice {
	var out []exam.Choice
	for _, t := range volume.BloodTubes() {
		out = append(out, exam.Choice{Key: string(t.Kind), Words: t.Kind.String() + ", " + t.Cap})
	}
	return out
}

// BloodSheet is the order of a blood draw while it is filled in.
type BloodSheet struct {
	Answers
	at     *Job
	weight volume.Weight
}

// NewBloodSheet begins an order.
func NewBloodSheet(at *Job) *BloodSheet {
	b := &BloodSheet{Answers: Answers{}, at: at, weight: at.Weight(at.Now()).As(at.Units)}
	b.Put(DrawnBy, at.Person)
	if decided, err := at.Drawing(at.Now()); err == nil {
		c, _ := decided.Cover(exam.Procedure{Kind: exam.Drawing})
		b.Put(For, c.For)
	}
	if b.weight.Kg > 0 {
		b.Put(Weight, b.weight.Text())
	}
	for _, t := range volume.BloodTubes() {
		if t.SizeML > 0 {
			b.Put(EachML(t.Kind), volume.Plain(t.SizeML))
		}
	}
	return b
}

// Fields are the questions of a draw.
func (b *BloodSheet) Fields() []Field {
	list := []Field{
		{Key: For, Label: "for", Ask: "What is the blood for, as the veterinarian said?", Limit: 120, Check: Needed("a blood draw begins with what it is for"), Hint: b.hintFor},
		{Key: VetName, Label: "drawn by vet", Ask: "Which accredited veterinarian draws it?", Limit: 60, Check: Named("by law the accredited veterinarian draws this sample; enter who draws it, by name"), Hidden: func() bool { return !b.Official() }},
		{Key: Tubes, Label: "tubes", Ask: fmt.Sprintf("Which tubes (%s, %s, 2 %s)?", exam.TubeCitrate, exam.TubeSerum, exam.TubeEDTA), Limit: 120, Choices: tubeChoices(), Counted: true, Check: checkTubes, Hint: b.hintTubes},
	}
	for _, t := range volume.BloodTubes() {
		list = append(list, Field{
			Key: EachML(t.Kind), Label: strings.TrimPrefix(t.Kind.String(), "blood ") + ", mL", Ask: fmt.Sprintf("How many mL does one tube of %s hold?", t.Kind), Limit: 12,
			Check: Above("a tube holds more than 0 mL"), Hint: func(string) string { return t.Fill }, Hidden: func() bool { return b.count(t.Kind) == 0 },
		})
	}
	return append(list,
		Field{Key: Weight, Label: "weight", Ask: "Body weight, with its unit? It sets the blood limit.", Limit: 20, Check: optionalWeight, Hint: b.hintLimits},
		Field{Key: DrawnBy, Label: "by", Ask: "Who draws, or holds the tubes?", Limit: 60, Check: Named("the record of a draw says who did it, by name")})
}

// Official says that the law lets only the accredited veterinarian draw.
func (b *BloodSheet) Official() bool {
	_, official := procedure.OfficialSample(b.Get(For))
	return official
}

func (b *BloodSheet) hintFor(text string) string {
	if law, official := procedure.OfficialSample(text); official {
		return "Caution: " + law
	}
	return "as the veterinarian said: blood count, serum chemistry, a test by name"
}

// ReadTubes reads kinds of tubes with commas, a number before a kind that comes
// more than once: "citrate, serum, 2 EDTA". Errors are *notation.Refusal.
func ReadTubes(text string) ([]exam.TubeKind, error) {
	var out []exam.TubeKind
	for _, part := range strings.Split(notation.CleanLine(text, 0), ",") {
		part = strings.TrimSpace(part)
		if part == "" {
			continue
		}
		n := 1
		if head, rest, ok := strings.Cut(part, " "); ok {
			if k, err := strconv.Atoi(head); err == nil {
				n, part = k, strings.TrimSpace(rest)
			}
		}
		if n < 1 || n > MostTubes {
			return nil, &notation.Refusal{Typed: part, Why: fmt.Sprintf("one to %d tubes of a kind are drawn at one time", MostTubes)}
		}
		one, err := volume.InOrder([]exam.TubeKind{exam.TubeKind(part)})
		if err != nil {
			return nil, err
		}
		for range n {
			out = append(out, one[0].Kind)
		}
	}
	if len(out) == 0 {
		return nil, &notation.Refusal{Why: "say which tubes are to be filled"}
	}
	return out, nil
}

func checkTubes(text string) error {
	_, err := ReadTubes(text)
	return err
}

func optionalWeight(text string) error {
	if notation.CleanLine(text, 0) == "" {
		return nil
	}
	_, err := volume.ParseWeight(text)
	return err
}

func (b *BloodSheet) kinds() []exam.TubeKind {
	kinds, err := ReadTubes(b.Get(Tubes))
	if err != nil {
		return nil
	}
	return kinds
}

func (b *BloodSheet) count(kind exam.TubeKind) int {
	n := 0
	for _, k := range b.kinds() {
		if k == kind {
			n++
		}
	}
	return n
}

func (b *BloodSheet) hintTubes(string) string {
	ordered, err := volume.InOrder(b.kinds())
	if err != nil || len(ordered) == 0 {
		return ""
	}
	words := make([]string, len(ordered))
	for i, t := range ordered {
		words[i] = t.Kind.String()
	}
	return "order of draw: " + strings.Join(words, ", ") + " (CLSI GP41)"
}

// Order is the order as it is filled in; the error is the first refusal of a
// field, or an *exam.Locked.
func (b *BloodSheet) Order() (exam.DrawOrder, error) {
	for _, f := range b.Fields() {
		if f.Off() {
			continue
		}
		if err := f.Refused(b.Get(f.Key)); err != nil {
			return exam.DrawOrder{}, err
		}
	}
	covering, err := b.at.Drawing(b.at.Now())
	if err != nil {
		return exam.DrawOrder{}, err
	}
	by := b.Get(DrawnBy)
	if b.Official() {
		by = b.Get(VetName)
	}
	tubes, _, err := procedure.Plan(b.at.Horse, b.kinds(), b.at.Now(), by)
	if err != nil {
		return exam.DrawOrder{}, err
	}
	for i := range tubes {
		tubes[i].ML, _ = ML(b.Get(EachML(tubes[i].Kind)))
	}
	out := exam.DrawOrder{For: b.Get(For), Tubes: tubes, Decision: covering.Seq}
	if b.Official() {
		out.Official, out.VetDraws = true, b.Get(VetName)
	}
	return out, nil
}

// TotalML is what the tubes hold together.
func (b *BloodSheet) TotalML() float64 {
	sum := 0.0
	for _, k := range b.kinds() {
		if ml, err := ML(b.Get(EachML(k))); err == nil {
			sum += ml
		}
	}
	return sum
}

func (b *BloodSheet) hintLimits(text string) string {
	q, err := volume.ParseWeight(text)
	if err != nil {
		return "without a weight there is no blood limit; it matters in foals and miniatures"
	}
	kg, _ := q.In(notation.Kilograms)
	lines, over := Limits(b.at.Stand, kg.Value, b.TotalML(), b.at.Now())
	return strings.Join(append(over, lines...), "\n")
}

// Over says which limits the draw crosses; they are asked about in the check list.
func (b *BloodSheet) Over() []string {
	q, err := volume.ParseWeight(b.Get(Weight))
	if err != nil {
		return nil
	}
	kg, _ := q.In(notation.Kilograms)
	_, over := Limits(b.at.Stand, kg.Value, b.TotalML(), b.at.Now())
	return over
}
