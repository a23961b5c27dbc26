package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/volume"
	"loosebox/ranges"
)

// measuring is what the command line of volume says.
type measuring struct {
	weight, dose, strength, syringe, mark     string
	weightBy, weightAge, weightBefore, change string
	horse                                     string
	asJSON                                    bool
}

func (e *env) volumeCommand() *cobra.Command {
	var m measuring
	c := &cobra.Command{
		Use: "volume", Short: "the volume of an ordered dose, at the mark of a syringe", Args: cobra.NoArgs,
		Long: `volume turns the dose that the veterinarian ordered into millilitres at the
mark of the syringe in hand, and shows what is really given and by how much
rounding changed it. It proposes no drug and no dose.

Every number carries its unit: --weight 500kg or 1100lb; --dose 2.2mg/kg or
1100mg; --strength 50mg/mL or 1%; --syringe 20mL. Marks of syringes differ:
--mark sets that of the one in hand, and a table syringes.csv in the data folder
(ml,mark_ml,name) replaces the built-in one. A syringe whose marks would change
the dose by more than --max-change is refused, and better ones are named.

--horse takes the weight from the record, with how and when it was found. volume
paste sets a paste syringe, volume drip works out drops, volume deficit the litres
of a fluid loss.`,
		Example: "  loosebox volume --weight 500kg --dose 2.2mg/kg --strength 50mg/mL --syringe 20mL\n" +
			"  loosebox volume --horse Bramble --dose 1100mg --strength 50mg/mL --syringe 35mL",
		RunE: func(*cobra.Command, []string) error {
			order, err := m.order(e)
			if err != nil {
				return err
			}
			drawn, err := volume.WorkOut(order)
			if err != nil {
				return wrongUse("", err)
			}
			if m.asJSON {
				return e.printJSON(volumeOf(order, drawn))
			}
			return e.printVolume(order, drawn)
		},
	}
	f := c.Flags()
	f.StringVar(&m.weight, "weight", "", "body weight, 500kg or 1100lb; not needed for a dose in mg")
	f.StringVar(&m.dose, "dose", "", "the dose as ordered, 2.2mg/kg or 1100mg")
	f.StringVar(&m.strength, "strength", "", "the strength on the label, 50mg/mL or 1%")
	f.StringVar(&m.syringe, "syringe", "", "the syringe in hand, 20mL")
	f.StringVar(&m.mark, "mark", "", "its smallest mark where the table is wrong, 0.5mL")
	f.StringVar(&m.weightBy, "weight-by", "", "how the weight was found: scale, tape, measured or eye")
	f.StringVar(&m.weightAge, "weight-age", "", "how long ago, 70d")
	f.StringVar(&m.weightBefore, "weight-before", "", "the weight before it, 480kg")
	f.StringVar(&m.horse, "horse", "", "take the weight from the record of this horse, with its method and age")
	f.StringVar(&m.change, "max-change", "", "the change by rounding that is taken, 5% where it is not given")
	f.BoolVar(&m.asJSON, "json", false, "one JSON object")
	c.AddCommand(
		e.sumCommand("paste", pasteLong, "  loosebox volume paste --weight 540kg --mark 50kg --tube 600kg"),
		e.sumCommand("drip", dripLong, "  loosebox volume drip --way time --volume 5L --over 8h --drops 10/mL"),
		e.sumCommand("deficit", deficitLong, "  loosebox volume deficit --weight 500kg --percent 5-8%"),
	)
	return c
}

const (
	pasteLong = `paste finds how far the ring of a paste syringe is set: the mark equal to the
horse's weight or the next above it, and how many tubes. What one mark and the
whole tube treat stands on the label; the product is the veterinarian's.`
	dripLong = `drip works out drops a minute for a volume in a time (--way time), for a rate by
weight (--way rate), or how long what is left still runs at the drops counted
(--way left). The rate is the veterinarian's; the drops a mL stand on the packet
of the set.`
	deficitLong = `deficit works out the litres that a fluid loss in % of body weight stands for, of
one percentage or of a band. What is given, and how fast, is the veterinarian's.`
)

// order reads the flags.
func (m measuring) order(e *env) (o volume.Order, err error) {
	for _, need := range [][2]string{{"dose", m.dose}, {"strength", m.strength}, {"syringe", m.syringe}} {
		if need[1] == "" {
			return o, usage("volume needs --%s; loosebox volume --help shows one example", need[0])
		}
	}
	if o.Dose, err = volume.ParseDose(m.dose); err != nil {
		return o, wrongUse("dose", err)
	}
	if o.Strength, err = volume.ParseStrength(m.strength); err != nil {
		return o, wrongUse("strength", err)
	}
	o.Table = e.syringes()
	e.tell()
	if o.Syringe, err = m.inHand(o.Table); err != nil {
		return o, err
	}
	if m.change != "" {
		number, found := strings.CutSuffix(strings.TrimSpace(m.change), "%")
		q, err := notation.ParseQuantity(number)
		if err != nil || !found || q.Unit != notation.NoUnit || q.Value <= 0 {
			return o, usage("--max-change is in %%, 5%%, not %q", notation.CleanLine(m.change, 20))
		}
		o.MaxPercent = q.Value
	}
	o.Weight, err = m.bodyWeight(e)
	return o, err
}

func (m measuring) inHand(table []volume.Syringe) (volume.Syringe, error) {
	ml, err := volume.ParseML(m.syringe)
	if err != nil {
		return volume.Syringe{}, wrongUse("syringe", err)
	}
	if m.mark == "" {
		s, err := volume.FindSyringe(ml, table)
		if err != nil {
			return s, usage("--syringe: %v; --mark sets the mark of another", err)
		}
		return s, nil
	}
	mark, err := volume.ParseML(m.mark)
	if err != nil {
		return volume.Syringe{}, wrongUse("mark", err)
	}
	s, err := volume.NewSyringe(ml, mark, "the one in hand")
	if err != nil {
		return s, usage("--mark: %v", err)
	}
	return s, nil
}

func (m measuring) bodyWeight(e *env) (w volume.Weight, err error) {
	if m.weight == "" && m.horse == "" {
		return w, nil
	}
	if m.horse != "" {
		in, err := e.sumsIn(m.horse)
		if err != nil {
			return w, err
		}
		w = volume.Known(in.Visits, in.Now)
		if m.weight == "" {
			if w.Kg == 0 {
				return w, needsWeight(in.Horse)
			}
			return w, nil
		}
		w = volume.Weight{BeforeKg: w.Kg}
	}
	if w.AsTyped, w.Kg, err = readWeight("weight", m.weight); err != nil {
		return w, err
	}
	methods := map[string]string{"": "", "scale": exam.WeightScale, "tape": exam.WeightTape, "measured": exam.WeightMeasured, "eye": exam.WeightEye}
	method, ok := methods[m.weightBy]
	if !ok {
		return w, usage("--weight-by is scale, tape, measured or eye, not %q", notation.CleanLine(m.weightBy, 20))
	}
	w.Method = method
	if m.weightAge != "" {
		age, err := spanOf("weight-age", m.weightAge, e.now())
		if err != nil {
			return w, err
		}
		w.AgeDays = rounded(age.Hours() / 24)
	}
	if m.weightBefore != "" {
		_, w.BeforeKg, err = readWeight("weight-before", m.weightBefore)
	}
	return w, err
}

type volumeJSON struct {
	Schema    string   `json:"schema"`
	OrderedMg float64  `json:"ordered_mg"`
	ExactML   float64  `json:"exact_ml"`
	DrawnML   float64  `json:"drawn_ml"`
	MarkML    float64  `json:"mark_ml"`
	WeightKg  *float64 `json:"weight_kg"`
	WeightBy  string   `json:"weight_by,omitempty"`
	WeightAge *float64 `json:"weight_age_days,omitempty"`
	Delivered *float64 `json:"delivered_mg_per_kg"`
	Change    float64  `json:"change_percent"`
	SyringeML float64  `json:"syringe_ml"`
	Warnings  []string `json:"warnings"`
}

func volumeOf(o volume.Order, d volume.Drawn) volumeJSON {
	j := volumeJSON{
		Schema: "loosebox/volume/1", OrderedMg: d.OrderedMg, ExactML: d.ExactML, DrawnML: d.DrawnML, MarkML: o.Syringe.MarkML,
		Delivered: onlyIf(d.HasWeight, d.DeliveredMgPerKg), Change: d.ChangePercent, SyringeML: o.Syringe.ML, Warnings: []string{},
	}
	if w := o.Weight; w.Kg > 0 {
		kg := rounded(w.Kg)
		j.WeightKg, j.WeightBy = &kg, w.Method
		if age := rounded(w.AgeDays); age > 0 {
			j.WeightAge = &age
		}
	}
	for _, w := range d.Warnings {
		j.Warnings = append(j.Warnings, w.Text)
	}
	return j
}

func (e *env) printVolume(o volume.Order, d volume.Drawn) error {
	head := fmt.Sprintf("draw %s mL (exactly %s mL)", volume.Plain(d.DrawnML), volume.Plain(d.ExactML))
	given := fmt.Sprintf("gives %s mg", volume.Plain(d.DeliveredMg))
	if d.HasWeight {
		given += fmt.Sprintf(", %s mg/kg", volume.Plain(d.DeliveredMgPerKg))
	}
	given += fmt.Sprintf("; rounding changed it by %s %%", notation.FormatNumber(d.ChangePercent, 2))
	lines := []string{head, given}
	if d.LowPerKg > 0 {
		lines = append(lines, fmt.Sprintf("by the published error of the weight %s to %s mg/kg", volume.Plain(d.LowPerKg), volume.Plain(d.HighPerKg)))
	}
	lines = append(lines, setIn(d.Working)...)
	for _, w := range d.Warnings {
		lines = append(lines, "! "+w.Text)
	}
	if o.Syringe.Evidence == ranges.FromMemory {
		lines = append(lines, fmt.Sprintf("o the marks of this syringe are from memory (%s mL): look at the one in hand, --mark sets them", volume.Plain(o.Syringe.MarkML)))
	}
	return e.lines(append(lines, decides)...)
}
