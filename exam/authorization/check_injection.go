package authorization

import (
	"math"
	"slices"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// maxGivenML is above anything that is given through a needle at one time. It is only
// there to catch a slip of the decimal point: what was given is saved as it was.
const maxGivenML = 100000.0

// CheckInjection says whether a line of an injection follows what the visit
// holds. It does not look at the decision: see CheckProcedure. The error is a *notation.Refusal.
func CheckInjection(v exam.Visit, l exam.InjectionLine, at time.Time) error {
	if l.Phase == exam.InjectionReady || l.Phase == exam.InjectionNoted {
		return checkNew(v, l, at)
	}
	i, ok := v.Injection(l.Number)
	switch {
	case !ok && l.Phase == exam.InjectionGiven && l.Order != nil && l.Order.Without != "":
		return checkWhole(v, l, at)
	case !ok:
		return &notation.Refusal{Why: "there is no injection with this number; the order and the check list come first"}
	}
	if i.Finished() {
		return &notation.Refusal{Why: "this injection is recorded as " + i.State.String() + "; another dose is another injection"}
	}
	attempt, in := i.NeedleIn()
	switch l.Phase {
	case exam.InjectionNeedleIn:
		return checkNeedle(v, i, l, in)
	case exam.InjectionClear, exam.InjectionBlood, exam.InjectionInVein, exam.InjectionPulsing, exam.InjectionNotFound:
		if !in {
			return &notation.Refusal{Why: "no needle is in; first say where it goes"}
		}
		vein := l.Phase == exam.InjectionInVein || l.Phase == exam.InjectionPulsing
		if vein != (i.Order.Route == exam.RouteIV) && l.Phase != exam.InjectionNotFound {
			return &notation.Refusal{Why: l.Phase.String() + " is no answer for a needle that goes " + i.Order.Route.String()}
		}
	case exam.InjectionGiven:
		return checkGiven(i, l, attempt, in)
	case exam.InjectionStopped:
		return checkStopped(string(l.Why), l.Sign, l.VolumeML, maxGivenML, "how much went in")
	case exam.InjectionReady, exam.InjectionNoted:
	default:
		return &notation.Refusal{Typed: string(l.Phase), Why: "that is not part of an injection"}
	}
	return nil
}

// checkWhole says what is missing of an injection that is written down in one line
// after it was given, by the veterinarian's hand or word: see Order.CheckWithout.
func checkWhole(v exam.Visit, l exam.InjectionLine, at time.Time) error {
	switch {
	case l.Number != len(v.Injections)+1:
		return &notation.Refusal{Why: "the injections of a visit are numbered one after the other"}
	case !l.NotKnown && !exam.IsVolume(l.VolumeML, maxGivenML):
		return &notation.Refusal{Why: "say how much was given, in mL, or that it is not known"}
	case l.GivenAt != nil && l.GivenAt.After(at):
		return &notation.Refusal{Why: "the time at which it was given has not come yet"}
	}
	return nil
}

func checkNew(v exam.Visit, l exam.InjectionLine, at time.Time) error {
	switch {
	case l.Order != nil && l.Phase == exam.InjectionReady && l.Order.Without != "":
		return &notation.Refusal{Why: "what the veterinarian gives or orders aloud is saved once it was given"}
	case l.Number != len(v.Injections)+1:
		return &notation.Refusal{Why: "the injections of a visit are numbered one after the other"}
	case l.Order == nil:
		return &notation.Refusal{Why: "an injection begins with its order"}
	case l.Phase == exam.InjectionNoted:
		if exam.ProductKey(l.Order.Product) == "" && len(l.Order.Against) == 0 {
			return &notation.Refusal{Why: "type the product, or what it is against"}
		}
		if _, err := notation.ReadDay(l.On, at); err != nil {
			return err
		}
		return nil
	case len(v.OpenInjections())+len(v.OpenDraws()) > 0:
		return &notation.Refusal{Why: "a needle is recorded as inserted, not as removed; first record what happened to it"}
	}
	for _, c := range l.Checks {
		if !c.OK && notation.CleanLine(string(c.Words), 0) == "" {
			return &notation.Refusal{Why: "a point of the check list that is not in order needs its words, or the injection waits"}
		}
	}
	return l.Order.Check(at)
}

func checkNeedle(v exam.Visit, i exam.Injection, l exam.InjectionLine, in bool) error {
	switch {
	case in:
		return &notation.Refusal{Why: "a needle is in already; say first what was seen"}
	case !i.Order.Route.Needled():
		return &notation.Refusal{Why: "no needle is used " + i.Order.Route.String()}
	case l.Place.Site == "":
		return &notation.Refusal{Why: "say at which site and side the needle goes in"}
	case len(v.OpenInjections())+len(v.OpenDraws()) > 0:
		return &notation.Refusal{Why: "another needle is recorded as inserted, not as removed; first record what happened to it"}
	}
	for _, a := range i.Attempts {
		same := a.Place.Site == l.Place.Site && a.Place.Side == l.Place.Side
		if same && a.Seen == exam.InjectionBlood {
			return &notation.Refusal{Why: "blood came at " + a.Place.String() + "; take a new needle and another site"}
		}
		if same && a.Seen == exam.InjectionPulsing {
			return &notation.Refusal{Why: "blood pulsed at " + a.Place.String() + "; the needle stays out there, tell the vet"}
		}
	}
	return nil
}

// checkGiven lets a dose be given only after something was seen, unless the line
// is written down afterwards from what the person says happened.
func checkGiven(i exam.Injection, l exam.InjectionLine, a exam.NeedleAttempt, in bool) error {
	if !l.NotKnown && !exam.IsVolume(l.VolumeML, maxGivenML) {
		return &notation.Refusal{Why: "say how much was given, in mL"}
	}
	if !i.Order.Route.Needled() {
		return nil
	}
	switch {
	case !in:
		return &notation.Refusal{Why: "no needle is in; first say where it goes"}
	case l.Afterwards, i.Order.Route == exam.RouteSC:
		return nil
	case a.Seen == exam.InjectionClear && i.Order.Route == exam.RouteIM, a.Seen == exam.InjectionInVein && i.Order.Route == exam.RouteIV:
		return nil
	case i.Order.Route == exam.RouteIV:
		return &notation.Refusal{Why: "first see that the blood drips and does not pulse"}
	}
	return &notation.Refusal{Why: "first aspirate and say whether it was clear"}
}

// CheckWatch says whether a line of a watch follows what the visit holds; whether the
// watch is over is asked by CheckOver. The error is a *notation.Refusal.
func CheckWatch(v exam.Visit, l exam.WatchLine) error {
	running := watching(v, l.Injection)
	switch l.Phase {
	case exam.WatchBegun:
		if i, ok := v.Injection(l.Injection); !ok || !i.Finished() || running != nil {
			return &notation.Refusal{Why: "an injection has one observation"}
		}
		if l.Minutes <= 0 || l.Minutes > 24*60 {
			return &notation.Refusal{Why: "an observation lasts from 1 minute to a day"}
		}
	case exam.WatchReaction:
		if notation.CleanLine(l.SignWords, 0) == "" {
			return &notation.Refusal{Why: "say what was seen"}
		}
	case exam.WatchDeclined:
		return checkDeclined(v, l)
	case exam.WatchQuiet, exam.WatchLeftEarly:
		if running == nil {
			return &notation.Refusal{Why: "no observation runs for this injection"}
		}
		if l.Phase == exam.WatchLeftEarly && notation.CleanLine(string(l.Why), 0) == "" {
			return &notation.Refusal{Why: "the observation is not over; type why you stop it"}
		}
	default:
		return &notation.Refusal{Typed: string(l.Phase), Why: "that is not part of an observation"}
	}
	return nil
}

// watching is the watch that runs after an injection; nil for none.
func watching(v exam.Visit, injection int) *exam.Watch {
	i := slices.IndexFunc(v.Watches, func(w exam.Watch) bool { return w.Injection == injection && w.Running() })
	if i < 0 {
		return nil
	}
	return &v.Watches[i]
}

// CheckOver says whether a watch may end now as over: its minutes have passed for certain, or the clock of this laptop cannot
// be trusted, and then a person was asked who looked at another one. The error is a *notation.Refusal.
func CheckOver(v exam.Visit, e exam.Entry, waits *exam.Waits) error {
	if e.Watch == nil || e.Watch.Phase != exam.WatchQuiet || e.Corrects > 0 {
		return nil
	}
	running := watching(v, e.Watch.Injection)
	if running == nil {
		return nil
	}
	if s := waits.Watch(v.ID, *running, e.At); s.Left > 0 && !s.Asks {
		return &notation.Refusal{Why: "the observation is not over yet; stay, or stop it with a reason"}
	}
	return nil
}

// checkDeclined lets a watch be declined once something went in and none was begun.
func checkDeclined(v exam.Visit, l exam.WatchLine) error {
	if notation.CleanLine(string(l.Why), 0) == "" {
		return &notation.Refusal{Why: "type why the horse is not observed"}
	}
	for _, i := range v.Unwatched() {
		if i.Number == l.Injection {
			return nil
		}
	}
	return &notation.Refusal{Why: "there is no observation to decline"}
}

// checkStopped says what is missing of a line that stops a procedure: the reason or the sign of danger, and an amount in mL
// up to the most. The error is a *notation.Refusal.
func checkStopped(why, sign string, ml, most float64, amount string) error {
	if notation.CleanLine(why, 0) == "" && sign == "" {
		return &notation.Refusal{Why: "say why it was stopped"}
	}
	if ml < 0 || ml > most || math.IsNaN(ml) {
		return &notation.Refusal{Why: amount + " is a number of mL, 0 for nothing"}
	}
	return nil
}
