package demo

import (
	"time"

	"loosebox/exam"
)

// part is one animal of the yard as it is written down here.
type part struct {
	horse  exam.Horse
	birth  func(now time.Time) exam.Birth
	usual  map[exam.StepID]around
	visits []occasion
}

// around is what is usual for the animal, with its spread.
type around struct {
	value, spread float64
	decimals      int
}

// occasion is one visit: how long ago, and what is not as usual. found holds
// answers as they are typed, by step or by step:site.
type occasion struct {
	ago     time.Duration
	routine string
	reason  string
	by      string
	states  []exam.State
	found   map[string]string
	notDone map[exam.StepID]exam.Reason
	open    int // entries after which the visit was left open; 0 for a closed one
}

const (
	hour = time.Hour
	day  = 24 * hour
	week = 7 * day
	year = 365 * day
)

func numbers(temp, heart, breath, weight, condition float64) map[exam.StepID]around {
	crest := 1.0
	if condition >= 7 {
		crest = 3
	}
	return map[exam.StepID]around{
		"neck.crest":      {crest, 0, 0},
		"temp.rectal":     {temp, 0.15, 1},
		"heart.rate":      {heart, 1.5, 1},
		"breath.rate":     {breath, 0.9, 1},
		"weight.body":     {weight, weight * 0.008, 0},
		"condition.score": {condition, 0, 0},
		"gum.refill":      {1.4, 0.15, 1},
		"skin.tent":       {0.9, 0.1, 1},
		"pain.grimace":    {0, 0, 0},
		"approach":        {1, 0, 0}, // the first choice: calm, held
	}
}

func bornYears(years, months, days int, basis string) func(time.Time) exam.Birth {
	return func(now time.Time) exam.Birth {
		b := now.AddDate(-years, -months, -days)
		at := time.Date(b.Year(), b.Month(), b.Day(), 0, 0, 0, 0, now.Location())
		return exam.Birth{At: at, Precision: exam.BornDay, Basis: basis}
	}
}

func bornAbout(years int) func(time.Time) exam.Birth {
	return func(now time.Time) exam.Birth {
		at := time.Date(now.Year()-years, time.January, 1, 0, 0, 0, 0, now.Location())
		return exam.Birth{At: at, Precision: exam.BornEstimated, Basis: "teeth"}
	}
}

func bornHours(hours int) func(time.Time) exam.Birth {
	return func(now time.Time) exam.Birth {
		return exam.Birth{At: now.Add(-time.Duration(hours) * hour).Truncate(time.Minute), Precision: exam.BornMinute, Basis: "seen"}
	}
}

// every is a row of visits without anything unusual, the oldest first.
func every(step time.Duration, count int) []occasion {
	out := make([]occasion, count)
	for i := range out {
		out[i] = occasion{ago: time.Duration(count-i)*step + 3*hour, reason: "yearly check"}
	}
	return out
}

// cast is everybody in the yard. All names are invented.
func cast() []part {
	return append(grown(), others()...)
}

func grown() []part {
	bramble := every(22*week, 9)
	bramble[4] = occasion{
		ago: bramble[4].ago, reason: "coughs", found: map[string]string{
			"temp.rectal": "39.3", "heart.rate": "54", "breath.rate": "26", "nose.discharge:left": "3", "cough": "2", "demeanour": "quiet",
		},
	}
	bramble = append(bramble, occasion{ago: 26 * hour, reason: "off her feed", states: []exam.State{exam.StateTravelled}, found: map[string]string{
		"temp.rectal": "101.7F", "heart.rate": "50", "gum.moisture": "tacky", "gut.sounds:left upper": "reduced", "gut.sounds:left lower": "reduced",
	}})
	quarry := every(30*week, 7)
	quarry = append(quarry, occasion{ago: 9 * day, routine: "colic-check", reason: "rolled twice, looks at his flank", by: "Tomas Reed", found: map[string]string{
		"heart.rate": "64", "gut.sounds:right upper": "none", "gut.sounds:left upper": "reduced", "gum.colour": "pale pink",
		"gum.refill": "2.6 2.8 2.7", "pain.signs": "flank",
	}})
	teasel := every(26*week, 11)
	teasel[10].found = map[string]string{
		"limb.digitalpulse:left fore": "4", "limb.digitalpulse:right fore": "4", "hoof.heat:left fore": "hot", "hoof.heat:right fore": "hot", "heart.rate": "52",
	}
	teasel[10].reason = "short steps on the yard"
	return []part{
		{
			horse: exam.Horse{
				Name: "Bramble", Kind: exam.AnimalHorse, Sex: exam.Mare, Breed: "warmblood cross", Colour: "bay", Markings: "star, white pastern LH",
				Chip: "001164000123456", Owner: "P. Lindqvist", Place: "Hollow Farm, box 3", Cautions: []string{"needle-shy"},
			},
			birth: bornYears(9, 2, 11, "passport"), usual: numbers(37.7, 36, 11, 542, 5), visits: bramble,
		},
		{
			horse: exam.Horse{
				Name: "Quarry", Kind: exam.AnimalDraft, Sex: exam.Gelding, Breed: "heavy draft", Colour: "grey", Owner: "Hollow Farm", Place: "Hollow Farm, yard box",
				Cautions: []string{"leans on the handler"},
			},
			birth: bornYears(14, 5, 2, "papers"), usual: numbers(37.6, 31, 10, 811, 6), visits: quarry,
		},
		{
			horse: exam.Horse{
				Name: "Teasel", Kind: exam.AnimalPony, Sex: exam.Gelding, Breed: "hill pony", Colour: "chestnut", Owner: "M. Achterberg", Place: "Ridge End",
				Cautions: []string{"kicks", "bites"}, Reactions: []string{"swelling after an injection in the neck, right, spring two years ago"},
			},
			birth: bornAbout(17), usual: numbers(37.8, 40, 12, 263, 7), visits: teasel,
		},
		{
			horse: exam.Horse{
				Name: "Old Fergus", Kind: exam.AnimalHorse, Sex: exam.Gelding, Breed: "hunter type", Colour: "dark bay", Owner: "P. Lindqvist", Place: "Hollow Farm, box 1",
			},
			birth: bornYears(30, 1, 4, "papers"), usual: numbers(37.5, 38, 12, 498, 4),
			visits: append(every(20*week, 11), occasion{
				ago: 20 * day, reason: "drinks more", found: map[string]string{"skin.tent": "2.6", "heart.murmur:left": "2"},
				notDone: map[exam.StepID]exam.Reason{"weight.body": exam.ReasonNoTime},
			}),
		},
		{
			horse: exam.Horse{
				Name: "Saffron", Kind: exam.AnimalHorse, Sex: exam.Mare, InFoal: false, Breed: "thoroughbred cross", Colour: "liver chestnut", Owner: "J. Okonjo", Place: "Ridge End, foaling box",
				Cautions: []string{"guards her foal"},
			},
			birth: bornYears(11, 8, 20, "passport"), usual: numbers(37.8, 39, 13, 561, 6), visits: every(28*week, 5),
		},
	}
}

func others() []part {
	pepper := every(35*week, 4)
	pepper[3].found = map[string]string{"demeanour": "dull", "temp.rectal": "38.2", "heart.rate": "62"}
	pepper[3].reason = "stands apart, leaves hay"
	return []part{
		{
			horse: exam.Horse{Name: "Wren", Kind: exam.AnimalHorse, Sex: exam.Filly, Dam: exam.DamVaccine, Breed: "thoroughbred cross", Colour: "chestnut", Owner: "J. Okonjo", Place: "Ridge End, foaling box"},
			birth: bornHours(50), usual: numbers(38.3, 102, 34, 54, 5),
			visits: []occasion{
				{ago: 47 * hour, routine: "newborn-foal", reason: "first look", by: "Tomas Reed"},
				{ago: 26 * hour, routine: "newborn-foal", reason: "second look"},
				{ago: 3 * hour, routine: "newborn-foal", reason: "third look", found: map[string]string{"temp.rectal": "38.9"}, open: 9},
			},
		},
		{
			horse: exam.Horse{Name: "Pepper", Kind: exam.AnimalDonkey, Sex: exam.Gelding, Colour: "grey dun", Owner: "Ridge End", Place: "Ridge End, small field", Cautions: []string{"hides pain"}},
			birth: bornAbout(12), usual: numbers(37.0, 44, 20, 171, 6), visits: pepper,
		},
		{
			horse: exam.Horse{Name: "Juno", Kind: exam.AnimalMule, Sex: exam.Mare, Colour: "brown", Owner: "Hollow Farm", Place: "Hollow Farm, cart shed", Cautions: []string{"kicks", "head-shy"}},
			birth: bornYears(8, 0, 30, "owner"), usual: numbers(37.6, 34, 12, 402, 5), visits: every(40*week, 4),
		},
		{
			horse: exam.Horse{Name: "Thimble", Kind: exam.AnimalMiniature, Sex: exam.Stallion, Colour: "spotted", Owner: "M. Achterberg", Place: "Ridge End"},
			birth: bornYears(6, 6, 6, "papers"), usual: numbers(37.9, 44, 14, 88, 6), visits: every(30*week, 4),
		},
		{
			horse: exam.Horse{Name: "Merlin", Kind: exam.AnimalHorse, Sex: exam.Colt, Breed: "warmblood", Colour: "black", Owner: "P. Lindqvist", Place: "Hollow Farm, barn"},
			birth: bornYears(1, 5, 9, "passport"), usual: numbers(38.0, 46, 14, 341, 5), visits: every(18*week, 3),
		},
	}
}
