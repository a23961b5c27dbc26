package main

import (
	"loosebox/exam/sums"

	"github.com/spf13/cobra"
)

func (e *env) bloodCommand() *cobra.Command {
	return e.sumCommand(calculator{
		id: "blood", short: "how much blood a horse has, and how much may be drawn",
		long: `blood estimates an animal's blood volume and what share a draw takes. It shows the
limits of several sources. Most limits were made for laboratory animals; they
matter in small foals and miniatures. --drawn-14d is the blood drawn in the last
14 days before this draw. It counts fully in shorter limits too. left_ml is what
remains of a limit before this draw. --horse takes kind, weight and earlier draws
from the record. --tubes shows the order of draw, the fill and the mixing.`,
		example: "  loosebox blood --kind horse --weight 500kg --draw 30mL --drawn-14d 60mL",
		help: map[string]string{
			"kind": "horse, pony, miniature, draft, donkey or mule (default \"horse\")", "age": "9y, 8mo, 5d, or adult or foal", "breed": "breed; hot- and cold-blooded horses differ",
			"draw": "the draw in hand, 30mL", "drawn-14d": "drawn in the last 14 days before it, 60mL",
		},
		tell:  "a horse from the record: its kind, weight and earlier draws",
		needs: [][2]string{{"weight", "--weight 500kg, or --horse NAME"}}, weighed: true, named: true,
		print: func(out sums.Outcome) error {
			b, _ := out.(sums.Blood)
			return e.printBlood(b)
		},
	})
}
