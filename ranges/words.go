package ranges

import "loosebox/ranges/words"

// What a person reads for the keys of this package.
var (
	levelWords = words.New("level", map[levelKey]string{
		"usual":        "usual",
		"note":         "note",
		"recheck":      "recheck",
		"tell the vet": "tell the vet",
	})
	evidenceWords = words.New("evidence", map[Evidence]string{
		Published:      "published",
		PracticePage:   "practice page",
		CommonPractice: "common practice",
		FromMemory:     "from memory",
		PracticeOwn:    "practice's own",
	})
	originWords = words.New("origin of a range", map[RowOrigin]string{
		OriginBuiltIn:  "built in",
		OriginPractice: "practice's own",
	})
	measureWords = words.New("measure", map[Measure]string{
		TempRectal: "rectal temperature",
		HeartRate:  "heart rate",
		BreathRate: "breathing rate",
		GumRefill:  "capillary refill time",
		SkinTent:   "skin tent time",
	})
	classWords = words.New("class", map[Class]string{
		AdultLight:         "adult light horse",
		MareInFoal:         "mare, last 3 months in foal",
		Draft:              "draft horse",
		Pony:               "pony",
		Miniature:          "miniature horse",
		SmallMareInFoal:    "pony or miniature mare, last 3 months in foal",
		DonkeyAdult:        "donkey, adult",
		DonkeyYoung:        "donkey, under 2 years",
		DonkeyFirstDay:     "donkey, first day",
		DonkeyNewborn:      "donkey, newborn",
		DonkeyFirstMonth:   "donkey foal, 1 to 4 weeks",
		DonkeyToSixMonths:  "donkey foal, 1 to 6 months",
		DonkeyFoalUnknown:  "donkey foal, age not known",
		Mule:               "mule",
		MuleFoalFirstDay:   "mule foal, first day",
		MuleFoalFirstWeek:  "mule foal, 1 to 7 days",
		MuleFoalFirstMonth: "mule foal, 1 to 4 weeks",
		MuleFoalSixMonths:  "mule foal, 1 to 6 months",
		MuleWeanling:       "mule, 6 to 12 months",
		MuleFoalUnknown:    "mule foal, age not known",
		FoalFirstHour:      "foal, first hour",
		FoalFirstHours:     "foal, 1 to 6 hours",
		FoalFirstDay:       "foal, 1 to 24 hours",
		FoalFirstWeek:      "foal, 1 to 7 days",
		FoalFirstMonth:     "foal, 1 to 4 weeks",
		FoalToSixMonths:    "foal, 1 to 6 months",
		Weanling:           "weanling, 6 to 12 months",
		FoalAgeUnknown:     "foal, age not known",
		Yearling:           "yearling",
		TwoThree:           "two to three years",
	})
)

// String is the level for a person.
func (l Level) String() string { return levelWords.Of(levelKey(l.Key())) }

// String is the evidence for a person.
func (e Evidence) String() string { return evidenceWords.Of(e) }

// String is the origin for a person.
func (o RowOrigin) String() string { return originWords.Of(o) }

// String is the class for a person.
func (c Class) String() string { return classWords.Of(c) }

// Name is the measure for a person, "heart rate"; an unknown measure is returned as it is.
func (m Measure) Name() string { return measureWords.Of(m) }
