package demo

import (
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// dose is an invented dose of an invented product, as papers have it.
type dose struct {
	against string // diseases, with commas
	days    int    // ago
	whole   bool   // the papers show the first series
}

// doses are what the papers of some animals of the yard show, so that something
// is overdue, something due, and a series is incomplete.
func doses() map[string][]dose {
	return map[string][]dose{
		"Bramble": {{"tetanus,EEE_WEE,WNV", 401, true}, {"influenza", 200, true}, {"rabies", 340, true}},
		"Quarry":  {{"tetanus,EEE_WEE,WNV", 150, true}, {"rabies", 150, true}},
		"Teasel":  {{"tetanus", 229, false}},
		"Saffron": {{"tetanus,EEE_WEE,WNV", 215, true}, {"rabies", 215, true}, {"EHV1_4", 200, true}},
		Treated:   {{"EEE_WEE,WNV", 330, true}, {"tetanus", 600, true}},
		"Merlin":  {{"tetanus,EEE_WEE,WNV", 390, false}, {"tetanus,EEE_WEE,WNV", 358, false}},
	}
}

// noted are the entries that write down the papers of an animal on a day, as the
// injections of the visit from a number on.
func noted(name string, now, visit time.Time, first int) []exam.Entry {
	var out []exam.Entry
	for i, d := range doses()[name] {
		on := now.AddDate(0, 0, -d.days)
		if on.After(visit) {
			break // papers are not ahead of the day
		}
		out = append(out, exam.Entry{Kind: exam.EntryInjection, Injection: &exam.InjectionLine{
			Number: first + i, Phase: exam.InjectionNoted, On: on.Format(notation.DayForm), Basis: "passport", SeriesDone: d.whole,
			Order: &exam.Order{Product: "Vaccine P (invented)", Against: strings.Split(d.against, ",")},
		}})
	}
	return out
}

// Treated is the name of the animal whose last visit goes on after the exam: hand-off,
// decision, a draw of three tubes, an injection begun again after blood, a watch.
const Treated = "Old Fergus"

// treated are the entries of that.
func treated(now time.Time) []exam.Entry {
	const product = "Vaccine T (invented)"
	order := &exam.Order{
		Product: product, Active: "invented toxoid", Strength: "1 dose/mL", Maker: "nobody", Lot: "INV-1", Dose: "1 dose", VolumeML: 1,
		VolumeFrom: "as ordered", Expiry: notation.Expiry{Typed: now.AddDate(1, 0, 0).Format("01/06"), Last: now.AddDate(1, 0, 0).Format(notation.DayForm)},
		Route: exam.RouteIM, Against: []string{"tetanus"}, SupervisedBy: "Dr Ines Vale",
	}
	inject := func(l exam.InjectionLine) exam.Entry {
		l.Number = 1
		return exam.Entry{Kind: exam.EntryInjection, Injection: &l}
	}
	draw := func(l exam.DrawLine) exam.Entry {
		l.Number = 1
		return exam.Entry{Kind: exam.EntryDraw, Draw: &l}
	}
	neck := func(side exam.Site) exam.NeedlePlace { return exam.NeedlePlace{Site: "neck triangle", Side: side} }
	tube := func(kind exam.TubeKind, ml float64) exam.Entry {
		return draw(exam.DrawLine{Phase: exam.DrawTube, Tube: &exam.Tube{Kind: kind, ML: ml, Inversions: 6, Label: "horse: Old Fergus / owner: P. Lindqvist"}})
	}
	return []exam.Entry{
		{Kind: exam.EntryHandedOff, HandOff: &exam.HandOffLine{To: "Dr Ines Vale", How: exam.ByTelephone, Asked: "He drinks more. May I draw blood, and is tetanus due?", ReadBack: true}},
		{Kind: exam.EntryDecision, Decision: &exam.Decision{
			Words: "Draw blood for a count and chemistry. Give the tetanus booster, one dose, in the neck.", Vet: "Dr Ines Vale", How: exam.ByTelephone,
			Ruling: exam.GoAhead, ReadBack: true, Covers: []exam.CoveredProcedure{{Kind: exam.Drawing}, {Kind: exam.Injecting, Product: product, Route: exam.RouteIM, Dose: "1 dose"}},
		}, Recheck: &exam.RecheckLine{On: now.AddDate(0, 0, 4).Format(notation.DayForm), What: "how much he drinks in a day"}},
		draw(exam.DrawLine{Phase: exam.DrawReady, Order: &exam.DrawOrder{For: "count and chemistry"}}),
		draw(exam.DrawLine{Phase: exam.DrawNeedleIn, Place: exam.NeedlePlace{Site: "jugular, upper third", Side: exam.Left}, Needle: "18 G 1.5 in"}),
		tube("serum", 10), tube("heparin", 6), tube("EDTA", 3),
		draw(exam.DrawLine{Phase: exam.DrawDone, VolumeML: 19}),
		inject(exam.InjectionLine{Phase: exam.InjectionReady, Order: order, Checks: []exam.Checked{{Key: "horse", OK: true}, {Key: "expiry", OK: true}}}),
		inject(exam.InjectionLine{Phase: exam.InjectionNeedleIn, Place: neck(exam.Left), Needle: "20 G 1.5 in"}),
		inject(exam.InjectionLine{Phase: exam.InjectionBlood}),
		inject(exam.InjectionLine{Phase: exam.InjectionNeedleIn, Place: neck(exam.Right), Needle: "20 G 1.5 in, new"}),
		inject(exam.InjectionLine{Phase: exam.InjectionClear}),
		inject(exam.InjectionLine{Phase: exam.InjectionGiven, VolumeML: 1, Disposal: "sharps box"}),
		{Kind: exam.EntryWatch, Watch: &exam.WatchLine{Injection: 1, Phase: exam.WatchBegun, Minutes: 20}},
		{Kind: exam.EntryWatch, Watch: &exam.WatchLine{Injection: 1, Phase: exam.WatchQuiet}},
	}
}
