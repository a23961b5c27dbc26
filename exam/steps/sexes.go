package steps

import "loosebox/exam"

// of says which sexes a choice can be of.
func of(sexes []exam.Sex, c exam.Choice) exam.Choice {
	c.Of = sexes
	return c
}

func female() []exam.Sex { return []exam.Sex{exam.Mare, exam.Filly} }
func entire() []exam.Sex { return []exam.Sex{exam.Stallion, exam.Colt} }
func male() []exam.Sex   { return append(entire(), exam.Gelding) }
