package steps

import "loosebox/exam"

// newbornFoal asks what lists of reasons to call for a newborn turn on: alert,
// breathing, warmth, heart, gums, navel, joints, first manure, urine, milk at
// the nose (AQHA, SCONE, WALKER); the three danger signs of ill newborns, a weak
// pulse, cold legs and a seizure (FOAL25); on the first day before all else when it stood,
// nursed and the rest, from whoever sat up.
func newbornFoal() exam.Routine {
	return exam.Routine{
		Name: "newborn-foal", Title: "Newborn foal",
		About: "the first days of life; the mare is looked at as a horse of her own",
		Asks: round(append([]stop{
			stand(atDoor, ask("approach")),
			stand(
				sinceIt, ask("foal.breast"), ask("foal.suck"), ask("foal.stand"), ask("foal.nurse"), ask("foal.afterbirth"),
				ask("foal.meconium"), ask("foal.urine"),
			),
			stand(
				distance, ask("demeanour"), ask("posture"), ask("breath.rate"), ask("breath.effort"),
				ask("pain.signs"), ask("gait.look"), ask("urine"),
			),
			stand(atTail, ask("manure"), ask("temp.rectal"), ask("weight.body")),
			stand(
				leftSide, ask("heart.rate"), ask("heart.rhythm"), ask("heart.murmur", exam.Left),
				ask("lung.sounds", leftQuarters()...), ask("gut.sounds", leftQuarters()...),
			),
			stand(behind, ask("belly.distension")),
			stand(
				rightOf, ask("heart.murmur", exam.Right),
				ask("lung.sounds", rightQuarters()...), ask("gut.sounds", rightQuarters()...),
				ask("navel"),
			),
			stand(
				atHead, ask("eye.look", sides()...), ask("nose.discharge", sides()...),
				ask("mouth.look"), ask("pulse.strength"), ask("gum.colour"), ask("gum.moisture"), ask("gum.refill"),
			),
		}, legsThenEnd("limb.look", "limb.warmth")...)...),
	}
}

func foalAndYoungster() exam.Routine {
	return exam.Routine{
		Name: "foal-and-youngster", Title: "Foal and youngster",
		About: "from some weeks to three years: growth, infection, limbs",
		Asks: round(append([]stop{
			stand(atDoor, ask("approach")),
			stand(
				distance, ask("demeanour"), ask("posture"), ask("breath.rate"), ask("breath.effort"),
				ask("pain.signs"), ask("gait.look"),
			),
			stand(atTail, ask("manure"), ask("temp.rectal"), ask("weight.body"), ask("condition.score")),
			stand(
				leftSide, ask("heart.rate"), ask("heart.rhythm"), ask("heart.murmur", exam.Left),
				ask("lung.sounds", leftQuarters()...), ask("gut.sounds", leftQuarters()...),
			),
			stand(behind, ask("belly.distension")),
			stand(
				rightOf, ask("heart.murmur", exam.Right),
				ask("lung.sounds", rightQuarters()...), ask("gut.sounds", rightQuarters()...),
				ask("navel"), ask("skin.look"),
			),
			stand(
				atHead, ask("eye.look", sides()...), ask("nose.discharge", sides()...), ask("cough"),
				ask("node.jaw"), ask("mouth.look"),
				ask("gum.colour"), ask("gum.moisture"), ask("gum.refill"),
			),
		}, legsThenEnd(atOneLeg()...)...)...),
	}
}
