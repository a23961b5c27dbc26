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
	consentWords = words.New("consent", map[ConsentHow]string{
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
