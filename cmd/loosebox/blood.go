package main

import (
	"loosebox/exam/sums"

	"github.com/spf13/cobra"
)

func (e *env) bloodCommand() *cobra.Command {
	return e.sumCommand(calculator{
		id: "blood", short: "how much blood a horse has, and how much may be drawn",
		long: `blood estimates how much blood an animal has, says what a draw takes of it, and
sets it beside the limits of several sources. Most limits were made for animals
of laboratories; they bite in small foals and miniatures. --drawn-14d is what was
drawn in the last 14 days before this draw; it counts whole in shorter limits too.
left_ml is what a limit leaves before the draw in hand. --horse takes the kind, the
weight and what was drawn before from the record. --tubes puts tubes in the
order of draw and says how each is filled and mixed.`,
		example: "  loosebox blood --kind horse --weight 500kg --draw 30mL --drawn-14d 60mL",
		help: map[string]string{
			"kind": "horse, pony, miniature, draft, donkey or mule (default \"horse\")", "age": "9y, 8mo, 5d, or adult or foal", "breed": "breed; hot- and cold-blooded horses differ",
			"draw": "the draw in hand, 30mL", "drawn-14d": "drawn in the last 14 days before it, 60mL",
		},
		tell:  "a horse of the record: its kind, weight and earlier draws",
		needs: [][2]string{{"weight", "--weight 500kg, or --horse NAME"}}, weighed: true, named: true,
		print: func(out sums.Outcome) error {
			b, _ := out.(sums.Blood)
			return e.printBlood(b)
		},
	})
}
