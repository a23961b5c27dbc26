package steps

import (
	"loosebox/exam"
)

// Where the examiner stands; the headings of the order are their words.
const (
	atDoor   = "at the door"
	sinceIt  = "since it was born"
	distance = "from a distance"
	atTail   = "at the tail"
	leftSide = "left side"
	behind   = "round behind"
	rightOf  = "right side"
	atHead   = "head and neck"
	atLimbs  = "limbs"
	atWalk   = "at walk"
	atBelly  = "under the belly"
	atEnd    = "at the end"
)

// Routines returns the built-in routines, the full exam first; its two other orders stand last. All of them
// count breathing from outside before the horse is handled (GUELPH), go round it once and visit each leg once.
func Routines() []exam.Routine {
	list := builtIn()
	for i, r := range list {
		list[i] = routineInWords(r)
	}
	return list
}

// builtIn lists the routines with their English texts.
func builtIn() []exam.Routine {
	return []exam.Routine{
		fullExam(), tprRecheck(), fiveMinuteCheck(), colicCheck(),
		beforeVaccination(), newbornFoal(), foalAndYoungster(), weightAndCondition(),
		heartFirst(), headToTail(),
	}
}

// Find returns the routine with the given name.
func Find(routines []exam.Routine, name string) (exam.Routine, bool) {
	for _, r := range routines {
		if r.Name == name {
			return r, true
		}
	}
	return exam.Routine{}, false
}

// Default is the name of the routine that is offered where nobody chose one.
const Default = "full-exam"

// FiveMinutes is the name of the short check that is repeated when a horse is looked at every half hour.
const FiveMinutes = "five-minute-check"

// stop is one place round the horse with what is asked there.
type stop struct {
	heading string
	asks    []exam.Ask
}

// round joins the stops into asks; the first ask of each carries its heading.
func round(stops ...stop) []exam.Ask {
	var asks []exam.Ask
	for _, s := range stops {
		for i, a := range s.asks {
			if i == 0 {
				a.Heading = s.heading
			}
			asks = append(asks, a)
		}
	}
	return asks
}

func stand(heading string, asks ...exam.Ask) stop { return stop{heading, asks} }

// ask asks a step at the given sites; at none for a step without sides.
func ask(id exam.StepID, sites ...exam.Site) exam.Ask {
	if len(sites) == 0 {
		sites = []exam.Site{exam.NoSite}
	}
	return exam.Ask{Step: id, Sites: sites}
}

func tprRecheck() exam.Routine {
	return exam.Routine{
		Name: "tpr-recheck", Title: "TPR recheck",
		About: "temperature, pulse and breathing again, after a rest or through the day",
		Asks: round(
			stand(atDoor, ask("approach")),
			stand(distance, ask("demeanour"), ask("breath.rate"), ask("breath.effort")),
			stand(atTail, ask("temp.rectal")),
			stand(leftSide, ask("heart.rate"), ask("heart.rhythm")),
			stand(atEnd, ask("note")),
		),
	}
}

// fiveMinuteCheck asks what a practice wants to hear first of a horse that is looked at again and again: how it is, pain,
// temperature, heart, breathing, gums with their refill, gut in four quadrants, digital pulses (common practice).
func fiveMinuteCheck() exam.Routine {
	return exam.Routine{
		Name: FiveMinutes, Title: "Five-minute check",
		About: "only five minutes, or every half hour after a call, a dose or a fever",
		Asks: round(
			stand(atDoor, ask("approach")),
			stand(distance, ask("demeanour"), ask("pain.signs"), ask("breath.rate")),
			stand(atTail, ask("temp.rectal")),
			stand(leftSide, ask("heart.rate"), ask("gut.sounds", leftQuarters()...)),
			stand(rightOf, ask("gut.sounds", rightQuarters()...)),
			stand(atHead, ask("gum.colour"), ask("gum.refill")),
			stand(atLimbs, ask("limb.digitalpulse", roundTheLegs()...)),
			stand(atEnd, ask("note")),
		),
	}
}

// colicCheck asks what published colic lists turn on: pain, heart, breathing,
// temperature, gums, refill, pulse, gut sounds in four quadrants, manure
// (CURTIS, BOWDEN, MICK24, MSDCOL).
func colicCheck() exam.Routine {
	return exam.Routine{
		Name: "colic-check", Title: "Colic check",
		About: "perhaps belly pain: what the veterinarian will ask on the phone",
		Asks: round(append([]stop{
			stand(atDoor, ask("approach")),
			stand(
				distance, ask("demeanour"), ask("posture"), ask("breath.rate"), ask("breath.effort"),
				ask("pain.signs"), ask("pain.grimace"),
			),
			stand(atTail, ask("manure"), ask("temp.rectal")),
			stand(leftSide, ask("heart.rate"), ask("heart.rhythm"), ask("gut.sounds", leftQuarters()...)),
			stand(behind, ask("belly.distension")),
			stand(rightOf, ask("gut.sounds", rightQuarters()...)),
			stand(
				atHead, ask("pulse.strength"), ask("gum.colour"), ask("gum.moisture"), ask("gum.refill"),
				ask("jugular.fill"), ask("skin.tent"),
			),
		}, legsThenEnd("limb.warmth", "limb.digitalpulse")...)...),
	}
}

// beforeVaccination: common practice is to look for fever, cough, discharge and
// swollen nodes, and at the skin where needles went before.
func beforeVaccination() exam.Routine {
	return exam.Routine{
		Name: "before-vaccination", Title: "Before vaccination",
		About: "is this horse well enough today, for the veterinarian to decide",
		Asks: round(
			stand(atDoor, ask("approach")),
			stand(distance, ask("demeanour"), ask("breath.rate"), ask("breath.effort")),
			stand(atTail, ask("manure"), ask("temp.rectal")),
			stand(leftSide, ask("heart.rate"), ask("heart.rhythm"), ask("skin.look")),
			stand(
				atHead, ask("eye.look", sides()...), ask("nose.discharge", sides()...), ask("cough"),
				ask("node.jaw"), ask("gum.colour"), ask("gum.refill"),
			),
			stand(atEnd, ask("note")),
		),
	}
}

// weightAndCondition follows a horse through the seasons: the same measures, by
// the same hands, at the same places of the body.
func weightAndCondition() exam.Routine {
	return exam.Routine{
		Name: "weight-and-condition", Title: "Weight and condition",
		About: "through the seasons: weight, condition, crest, neck and height",
		Asks: round(
			stand(atDoor, ask("approach")),
			stand(distance, ask("demeanour"), ask("posture")),
			stand(leftSide, ask("height.withers"), ask("weight.body"), ask("condition.score")),
			stand(atHead, ask("neck.girth"), ask("neck.crest")),
			stand(atEnd, ask("note")),
		),
	}
}
