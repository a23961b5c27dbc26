package exam

import "loosebox/ranges/words"

// What a person reads for the keys of decisions and procedures.
var (
	rulingWords = words.New("ruling", map[Ruling]string{GoAhead: "go ahead", Wait: "wait", Stop: "stop"})
	meansWords  = words.New("means", map[Means]string{
		Here: "here", ByTelephone: "by telephone", StandingOrder: "standing written order",
	})
	withoutWords = words.New("without a decision", map[Without]string{
		OwnHands: "given by the veterinarian", Emergency: "ordered aloud in an emergency",
	})
	procedureWords = words.New("procedure", map[ProcedureKind]string{Injecting: "injection", Drawing: "blood draw"})
	routeWords     = words.New("route", map[Route]string{
		RouteIM: "IM", RouteIV: "IV", RouteSC: "SC", RouteMouth: "by mouth", RouteNose: "in the nose",
	})
	injectionWords = words.New("phase of an injection", map[InjectionPhase]string{
		InjectionReady:    "order and check list",
		InjectionNeedleIn: "needle inserted",
		InjectionClear:    "aspirated, clear",
		InjectionBlood:    "aspirated, blood",
		InjectionInVein:   "blood drips, no pulse",
		InjectionPulsing:  "blood pulses",
		InjectionNotFound: "needle out, not in place",
		InjectionGiven:    "given",
		InjectionStopped:  "stopped",
		InjectionNoted:    "past dose",
	})
	drawWords = words.New("phase of a blood draw", map[DrawPhase]string{
		DrawReady:    "order",
		DrawNeedleIn: "needle inserted",
		DrawMissed:   "needle out, no blood",
		DrawTube:     "tube filled",
		DrawDone:     "drawn",
		DrawStopped:  "stopped",
	})
	tubeWords = words.New("tube", map[TubeKind]string{
		TubeCulture: "blood culture", TubeCitrate: "citrate", TubeSerum: "serum", TubeHeparin: "heparin", TubeEDTA: "EDTA", TubeFluoride: "fluoride",
	})
	watchWords = words.New("phase of an observation", map[WatchPhase]string{
		WatchBegun:     "begun",
		WatchQuiet:     "ended, no reaction",
		WatchReaction:  "reaction",
		WatchLeftEarly: "stopped early",
		WatchDeclined:  "declined",
	})
	checkWords = words.New("answer to a check list", map[CheckAnswer]string{
		ChipRead: "chip read", MarkingsCompared: "markings compared", NobodyElse: "nobody else here",
		NeitherFoodSport: "neither", FoodTold: "for food, the veterinarian was told",
		CompetesTold: "competes soon, the veterinarian was told", AgainOrdered: "again, by the veterinarian's order",
	})
	stopWords = words.New("reason to stop", map[StopReason]string{
		StopMoved: "the horse moved, or it is not safe", StopUnsafe: "the horse is not safe to handle",
		StopNeedleOut: "the needle came out or moved", StopNoMoreBlood: "the needle came out, and no more blood comes",
		StopSwelling: "blood or a swelling at the needle", StopVeinSwelling: "a swelling at the vein",
		StopSite:        "blood came, or the site is not in order",
		StopVetSaidStop: "the veterinarian said stop", StopVetSaidWait: "the veterinarian said wait or stop",
		StopEquipment: "syringe, needle or product is not in order", StopTubes: "needle or tubes are not in order",
		StopOwnerRefused: "the owner refused", OwnerObserves: "the owner observes, and knows what to look for",
		VetObserves: "the veterinarian observes", CalledAway: "called away to another horse",
		FoundOut: "interrupted: needle out, nothing given", FoundUnclear: "interrupted: not known whether anything was given",
		FoundDrawOut: "interrupted: the needle is out", FoundDrawnUnclear: "interrupted: amount drawn not known",
	})
	disposalWords = words.New("where a needle went", map[Disposal]string{SharpsBox: "sharps box"})
	consentWords  = words.New("consent", map[ConsentHow]string{
		ConsentSaid: "said, here", ConsentByTelephone: "said, by telephone", ConsentWritten: "in writing",
	})
)

// String is the ruling for a person.
func (r Ruling) String() string { return rulingWords.Of(r) }

// String is the means for a person.
func (m Means) String() string { return meansWords.Of(m) }

// String is the way for a person.
func (w Without) String() string { return withoutWords.Of(w) }

// String is the procedure for a person.
func (k ProcedureKind) String() string { return procedureWords.Of(k) }

// String is the route for a person.
func (r Route) String() string { return routeWords.Of(r) }

// String is the phase for a person.
func (p InjectionPhase) String() string { return injectionWords.Of(p) }

// String is the phase for a person.
func (p DrawPhase) String() string { return drawWords.Of(p) }

// String is the phase for a person.
func (p WatchPhase) String() string { return watchWords.Of(p) }

// String is the tube for a person.
func (k TubeKind) String() string { return tubeWords.Of(k) }

// String is the way of consent for a person.
func (c ConsentHow) String() string { return consentWords.Of(c) }

// String is the answer for a person; words that somebody typed stand as they are.
func (a CheckAnswer) String() string { return checkWords.Of(a) }

// String is the reason for a person; words that somebody typed stand as they are.
func (r StopReason) String() string { return stopWords.Of(r) }

// String is the place for a person; words that somebody typed stand as they are.
func (d Disposal) String() string { return disposalWords.Of(d) }
