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
		long: `volume turns the dose that the veterinarian ordered into millilitres at the
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
		example: "  loosebox volume --weight 500kg --dose 2.2mg/kg --strength 50mg/mL --syringe 20mL\n" +
			"  loosebox volume --horse Bramble --dose 1100mg --strength 50mg/mL --syringe 35mL",
		help: map[string]string{
			"weight": "body weight, 500kg or 1100lb; not needed for a dose in mg", "dose": "the dose as ordered, 2.2mg/kg or 1100mg", "syringe": "the syringe in hand, 20mL",
			"weight-by": "how the weight was found: scale, tape, measured or eye",
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
