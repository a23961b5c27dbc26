package exam

import "loosebox/ranges/words"

// What a person reads for the keys of horses, visits and rounds. Those of procedures are in words_procedures.go.
var (
	animalWords = words.New("animal", map[AnimalKind]string{
		AnimalHorse: "horse", AnimalPony: "pony", AnimalMiniature: "miniature", AnimalDraft: "draft", AnimalDonkey: "donkey", AnimalMule: "mule",
	})
	sexWords = words.New("sex", map[Sex]string{
		SexUnknown: "not known", Mare: "mare", Stallion: "stallion", Gelding: "gelding", Filly: "filly", Colt: "colt",
	})
	precisionWords = words.New("birth date", map[BirthPrecision]string{
		BornUnknown: "not known", BornMinute: "minute", BornDay: "day", BornMonth: "month", BornYear: "year",
		BornEstimated: "estimated", BornFoal: "under six months", BornAdult: "adult",
	})
	damWords = words.New("mare of a foal", map[DamVaccinated]string{
		DamNotKnown: "not known", DamVaccine: "vaccinated", DamUnvaccinated: "not vaccinated",
	})
	siteWords = words.New("site", map[Site]string{
		Left: "left", Right: "right",
		LeftUpper: "left upper", LeftLower: "left lower", RightUpper: "right upper", RightLower: "right lower",
		LeftFore: "left fore", RightFore: "right fore", LeftHind: "left hind", RightHind: "right hind",
		Overall: "overall",
	})
	systemWords = words.New("system", map[System]string{
		SystemGeneral: "general", SystemHeart: "heart and circulation", SystemBreathing: "breathing", SystemGut: "gut",
		SystemSkin: "skin", SystemHead: "head and neck", SystemLimbs: "limbs and feet", SystemRear: "manure, urine, udder",
		SystemPain: "pain", SystemFoal: "foal",
	})
	stateWords = words.New("state", map[State]string{
		StateRest: "at rest", StateWorked: "worked", StateExcited: "excited", StateTravelled: "traveled", StateHot: "hot weather",
	})
	medicineWords = words.New("medicine", map[Medicine]string{
		NoMedicine: "none", MedicineNotKnown: "not known", ForPain: "for pain or fever", ToCalm: "to calm", OtherMedicine: "other",
	})
	reasonWords = words.New("reason not done", map[Reason]string{
		ReasonRefused: "horse refused", ReasonUnsafe: "unsafe", ReasonNoTime: "no time", ReasonNotApplicable: "not applicable",
		ReasonOther: "other", ReasonNotRecorded: "not recorded",
	})
	noHandOffWords = words.New("closed without a hand-off", map[NoHandOff]string{
		KnownAlready: "the veterinarian knows it already", NotReached: "the veterinarian cannot be reached",
		HandOffLater: "it is handed off later", ByMistake: "entered by mistake",
	})
	amendWords = words.New("reason of a late line", map[AmendReason]string{
		AmendTakenOver: "a procedure was decided after the visit was closed", AmendRead: "read after the visit was closed",
		AmendDecided: "decided by the veterinarian after closing", AmendForRecord: "for the record, after the visit was closed",
		AmendSignSeen: "seen after the visit was closed", AmendPastDose: "a past dose, noted afterwards",
	})
	countWords = words.New("way of counting", map[CountMethod]string{
		CountTapped: "tapped", CountByEar: "counted by ear", CountTyped: "typed",
	})
	evennessWords = words.New("evenness", map[Evenness]string{
		Even: "even", EvenWithPauses: "even with pauses", SpeedingAndSlowing: "speeding and slowing",
		Irregular: "irregular, no repeating pattern", TooFewToSay: "too few to say", TooFastToJudge: "too fast to judge",
	})
	weightWords = words.New("way of weighing", map[WeighMethod]string{
		WeightScale: "scale", WeightTape: "weight tape", WeightMeasured: "girth and length", WeightEye: "by eye",
	})
	boundWords = words.New("bound", map[Bound]string{Under: "under", UpTo: "up to", Over: "over", AtLeast: "or more"})
	entryWords = words.New("entry", map[EntryKind]string{
		EntryOpened: "opened", EntryContext: "context", EntryFinding: "finding", EntryNotDone: "not done", EntryNote: "comment",
		EntryHandedOff: "handed off", EntryDecision: "decision", EntryInjection: "injection", EntryDraw: "draw", EntryWatch: "watch", EntryRead: "read", EntryTaken: "taken over",
		EntryClosed: "closed", EntryAdded: "added later", EntryStruck: "voided",
	})
	readerWords = words.New("reader", map[ReaderRole]string{ReadByVet: "veterinarian", ReadByColleague: "colleague"})
	actWords    = words.New("act of a round", map[RoundAct]string{
		RoundPicked: "picked", RoundLeftOut: "skipped", RoundSeen: "seen", RoundHanded: "reassigned", RoundTurn: "turn", RoundBack: "put back",
	})
	unsettledWords = words.New("to settle", map[UnsettledKind]string{
		UnsettledAnswers: "answers that differ", UnsettledNeedles: "two needles, both count", UnsettledMissed: "decision changed, needle not told",
		UnsettledDecision: "a decision without something", UnsettledClosing: "lines after the closing", UnsettledHorse: "a horse in two ways",
		UnsettledDouble: "may be entered twice", UnsettledParted: "one horse, or two", UnsettledSetting: "a setting in two ways", UnsettledAtOnce: "two exams open", UnsettledCompare: "two exams at once",
	})
	settingWords = words.New("setting", map[SettingKey]string{
		SettingSiteML: "most mL a site", SettingWatch: "observe, min", SettingVetPhone: "vet's telephone", SettingVetNight: "vet at night",
		SettingName: "practice", SettingAddress: "address", SettingPhone: "practice phone", SettingLicence: "license", SettingPaper: "paper", SettingLogo: "logo",
		SettingRehearsals: "rehearsals to",
	})
	turnWords = words.New("turn", map[Turn]string{TurnByRecord: "", TurnLast: "last", TurnOrdinary: "in order"})
)

// String is the role of a reader for a person.
func (r ReaderRole) String() string { return readerWords.Of(r) }

// String is the kind of animal for a person.
func (a AnimalKind) String() string { return animalWords.Of(a) }

// String is the sex for a person.
func (s Sex) String() string { return sexWords.Of(s) }

// String is the precision for a person.
func (p BirthPrecision) String() string { return precisionWords.Of(p) }

// String is the answer for a person.
func (d DamVaccinated) String() string { return damWords.Of(d) }

// String is the site for a person.
func (s Site) String() string { return siteWords.Of(s) }

// String is the system for a person.
func (s System) String() string { return systemWords.Of(s) }

// String is the state for a person.
func (s State) String() string { return stateWords.Of(s) }

// String is the medicine for a person.
func (m Medicine) String() string { return medicineWords.Of(m) }

// String is the bound for a person, before its number or, for AtLeast, behind it.
func (b Bound) String() string { return boundWords.Of(b) }

// String is the kind of entry for a person.
func (k EntryKind) String() string { return entryWords.Of(k) }

// String is the act for a person.
func (a RoundAct) String() string { return actWords.Of(a) }

// String is the turn for a person.
func (t Turn) String() string { return turnWords.Of(t) }

// String is the reason for a person; words that somebody typed stand as they are.
func (r Reason) String() string { return reasonWords.Of(r) }

// String is the reason for a person; words that somebody typed stand as they are.
func (n NoHandOff) String() string { return noHandOffWords.Of(n) }

// String is the reason for a person; words that somebody typed stand as they are.
func (r AmendReason) String() string { return amendWords.Of(r) }

// String is the way of counting for a person.
func (m CountMethod) String() string { return countWords.Of(m) }

// String is the evenness for a person.
func (e Evenness) String() string { return evennessWords.Of(e) }

// String is the way of weighing for a person.
func (m WeighMethod) String() string { return weightWords.Of(m) }
