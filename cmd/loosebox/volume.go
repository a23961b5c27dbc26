package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"loosebox/exam/notation"
	"loosebox/exam/sums"
	"loosebox/exam/volume"
	"loosebox/ranges"
)

func (e *env) volumeCommand() *cobra.Command {
	c := e.sumCommand(calculator{
		id: "volume", short: "the volume of an ordered dose, at the mark of a syringe",
		long: `volume turns an ordered dose into milliliters at a mark of your syringe. It shows
what is really given, and how much rounding changed it. It proposes no drug and no
dose.

Every number needs its unit: --weight 500kg or 1100lb; --dose 2.2mg/kg or 1100mg;
--strength 50mg/mL or 1%; --syringe 20mL. Marks of syringes differ: --mark sets
yours. A table syringes.csv (ml,mark_ml,name) in the data folder replaces the
built-in one. A syringe that changes the dose by more than --max-change is refused,
and better ones are named.

--horse takes the weight from the record. volume paste sets a paste syringe, volume
drip works out drops, volume deficit the liters of a fluid loss.`,
		example: "  loosebox volume --weight 500kg --dose 2.2mg/kg --strength 50mg/mL --syringe 20mL\n" +
			"  loosebox volume --horse Bramble --dose 1100mg --strength 50mg/mL --syringe 35mL",
		help: map[string]string{
			"weight": "body weight, 500kg or 1100lb; not needed for a dose in mg", "dose": "the dose as ordered, 2.2mg/kg or 1100mg", "syringe": "the syringe in hand, 20mL",
			"weight-by": "how it was weighed: scale, tape, measured or eye",
		},
		needs: [][2]string{
			{"dose", "--dose; loosebox volume --help shows one example"},
			{"strength", "--strength; loosebox volume --help shows one example"},
			{"syringe", "--syringe; loosebox volume --help shows one example"},
		},
		syringes: true, weighed: true, named: true,
		print: func(out sums.Outcome) error {
			d, _ := out.(sums.Dose)
			return e.printVolume(d.Order, d.Drawn)
		},
	})
	c.AddCommand(
		e.sumCommand(calculator{id: "paste", long: pasteLong, example: "  loosebox volume paste --weight 540kg --mark 50kg --tube 600kg"}),
		e.sumCommand(calculator{id: "drip", long: dripLong, example: "  loosebox volume drip --way time --volume 5L --over 8h --drops 10/mL"}),
		e.sumCommand(calculator{id: "deficit", long: deficitLong, example: "  loosebox volume deficit --weight 500kg --percent 5-8%"}),
	)
	return c
}

const (
	pasteLong = `paste finds where to set the ring of a paste syringe, and how many tubes. The mark
is the horse's weight or the next above it. The label says what one mark and the
whole tube treat. The veterinarian chooses the product.`
	dripLong = `drip works out drops a minute. --way time takes a volume in a time; --way rate a
rate by weight. With --way left it works out how long the rest still runs. The
veterinarian orders the rate. The packet of the set shows the drops per mL.`
	deficitLong = `deficit works out the liters of a fluid loss in % of body weight, for one percentage
or a range. The veterinarian decides what is given, and how fast.`
)

func (e *env) printVolume(o volume.Order, d volume.Drawn) error {
	head := fmt.Sprintf("draw %s mL (exactly %s mL)", volume.Plain(d.DrawnML), volume.Plain(d.ExactML))
	given := fmt.Sprintf("gives %s mg", volume.Plain(d.DeliveredMg))
	if d.HasWeight {
		given += fmt.Sprintf(", %s mg/kg", notation.Figures(d.DeliveredMgPerKg, 3))
	}
	given += fmt.Sprintf("; rounding changed it by %s %%", notation.FormatNumber(d.ChangePercent, 2))
	lines := []string{head, given}
	if d.LowPerKg > 0 {
		lines = append(lines, fmt.Sprintf("by the published error of the weight %s to %s mg/kg", notation.Figures(d.LowPerKg, 3), notation.Figures(d.HighPerKg, 3)))
	}
	lines = append(lines, setIn(d.Working)...)
	for _, w := range d.Warnings {
		lines = append(lines, "Check: "+w.Text)
	}
	if o.Syringe.Evidence == ranges.FromMemory {
		lines = append(lines, fmt.Sprintf("Check: the marks of this syringe are from memory (%s mL). Yours may differ; --mark sets them", volume.Plain(o.Syringe.MarkML)))
	}
	return e.lines(append(lines, decides)...)
}
