package steps

import (
	"slices"

	"loosebox/exam"
)

// The other orders of the full exam, by name.
const (
	HeartFirst = "heart-first"
	HeadToTail = "head-to-tail"
)

// fullExam goes from a distance to the tail, up the left side, behind, up the right side to the head, and then to each leg
// once. The head and the gums come before sheath or udder: clean before dirty (common practice).
func fullExam() exam.Routine {
	return exam.Routine{
		Name: Default, Title: "Full exam",
		About: "for most horses: once round from the tail, each leg once",
		Asks:  full(fromAfar(), tail(), left(), back(), right(), headAndNeck()),
	}
}

// heartFirst leaves the steps at walk until heart and breathing are counted: they raise both.
func heartFirst() exam.Routine {
	afar, walk := fromAfar(), ask("gait.look")
	afar.asks = slices.DeleteFunc(afar.asks, func(a exam.Ask) bool { return a.Step == walk.Step })
	return exam.Routine{
		Name: HeartFirst, Title: "Full exam, heart first",
		About: "for a nervous horse: heart and breathing before anything disturbs it",
		Asks:  full(afar, left(), tail(), back(), right(), headAndNeck(), stand(atWalk, walk)),
	}
}

func headToTail() exam.Routine {
	return exam.Routine{
		Name: HeadToTail, Title: "Full exam, head to tail",
		About: "for a calm horse held at the head: one way, from nose to tail",
		Asks:  full(fromAfar(), headAndNeck(), left(), tail(), back(), right()),
	}
}

// full is the full exam with the groups round the body in this order: met and looked at first, the legs after it.
func full(afar stop, body ...stop) []exam.Ask {
	first := []stop{stand(atDoor, ask("approach")), afar}
	last := append(legs(atOneLeg()...), stand(atBelly, ask("udder.sheath")), stand(atEnd, ask("note")))
	return round(slices.Concat(first, body, last)...)
}

func fromAfar() stop {
	return stand(
		distance, ask("demeanour"), ask("posture"), ask("breath.rate"), ask("breath.effort"),
		ask("pain.signs"), ask("pain.grimace"), ask("gait.look"), ask("urine"),
		ask("foal.breast"), ask("foal.suck"), ask("foal.stand"), ask("foal.nurse"), ask("foal.afterbirth"),
		ask("foal.meconium"), ask("foal.urine"),
	)
}

func tail() stop {
	return stand(atTail, ask("manure"), ask("temp.rectal"), ask("weight.body"), ask("condition.score"))
}

func left() stop {
	return stand(
		leftSide, ask("heart.rate"), ask("heart.rhythm"), ask("heart.murmur", exam.Left),
		ask("lung.sounds", leftQuarters()...), ask("gut.sounds", leftQuarters()...),
	)
}

func back() stop { return stand(behind, ask("belly.distension")) }

func right() stop {
	return stand(
		rightOf, ask("heart.murmur", exam.Right),
		ask("lung.sounds", rightQuarters()...), ask("gut.sounds", rightQuarters()...),
		ask("navel"), ask("skin.look"),
	)
}

func headAndNeck() stop {
	return stand(
		atHead, ask("eye.look", sides()...), ask("nose.discharge", sides()...), ask("cough"),
		ask("node.jaw"), ask("pulse.strength"), ask("mouth.look"),
		ask("gum.colour"), ask("gum.moisture"), ask("gum.refill"),
		ask("jugular.fill"), ask("skin.tent"), ask("neck.crest"),
	)
}

// atOneLeg is what is looked at and felt while one stands at a leg.
func atOneLeg() []exam.StepID {
	return []exam.StepID{"limb.look", "limb.warmth", "hoof.heat", "limb.digitalpulse"}
}

// roundTheLegs is the way round the horse from its left shoulder (common practice).
func roundTheLegs() []exam.Site {
	return []exam.Site{exam.LeftFore, exam.LeftHind, exam.RightHind, exam.RightFore}
}

// legs visits each leg once and asks the steps there.
func legs(ids ...exam.StepID) []stop {
	var out []stop
	for _, leg := range roundTheLegs() {
		asks := make([]exam.Ask, len(ids))
		for i, id := range ids {
			asks[i] = ask(id, leg)
		}
		out = append(out, stand(string(leg), asks...))
	}
	return out
}

// legsThenEnd are the legs and what is asked at the end.
func legsThenEnd(ids ...exam.StepID) []stop {
	return append(legs(ids...), stand(atEnd, ask("note")))
}
