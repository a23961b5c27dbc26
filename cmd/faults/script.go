package main

import (
	"fmt"
	"io"
	"math/rand/v2"
	"strconv"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/storage"
)

// noon is the invented day on which every script begins.
func noon() time.Time { return time.Date(2026, 3, 2, 12, 0, 0, 0, time.FixedZone("", 3600)) }

// actor plays exams into a record, one line after the other, and reports each as soon as it is stored.
type actor struct {
	r    *storage.Record
	rnd  *rand.Rand
	out  io.Writer
	at   time.Time
	open exam.VisitID
	took exam.Visit
}

// examForEver plays until it is killed.
func examForEver(dir, seed string, out io.Writer) error {
	n, err := strconv.ParseUint(seed, 10, 64)
	if err != nil {
		return err
	}
	r, err := storage.Open(dir, storage.Options{})
	if err != nil {
		return err
	}
	a := &actor{r: r, rnd: rand.New(rand.NewPCG(n, 1)), out: out, at: noon()}
	for {
		if err := a.visit(); err != nil {
			return err
		}
	}
}

// said reports a stored line: visit, number and digest.
func (a *actor) said(v exam.VisitID, seq int, hash exam.Hash) error {
	_, err := fmt.Fprintln(a.out, v, seq, hash)
	return err
}

func (a *actor) put(e exam.Entry) error {
	a.at = a.at.Add(20 * time.Second)
	e.Visit, e.At, e.By = a.open, a.at, "Ann"
	back, err := a.r.Append(e)
	if err != nil {
		return err
	}
	if err := a.took.Apply(back); err != nil {
		return err
	}
	return a.said(a.open, back.Seq, back.Hash)
}

// visit plays one whole visit: an exam with corrections, a decision, an injection and a draw, the closing, corrections after
// it, and sometimes voiding it.
func (a *actor) visit() error {
	horses, err := a.r.Horses()
	if err != nil {
		return err
	}
	if len(horses) < 2 {
		h, err := a.r.SaveHorse(exam.Horse{Revision: 1, Name: fmt.Sprintf("Horse %d", len(horses)), Kind: exam.AnimalPony}, "Ann", a.at)
		if err != nil {
			return err
		}
		horses = append(horses, exam.Found{Horse: h})
	}
	h := horses[a.rnd.IntN(len(horses))].Horse
	v, err := a.r.Begin(exam.Entry{Kind: exam.EntryOpened, At: a.at, By: "Ann", Opening: &exam.Opening{Horse: h, Routine: "full-exam"}})
	if err != nil {
		return err
	}
	a.open, a.took = v.ID, v
	if err := a.said(v.ID, 1, v.Last); err != nil {
		return err
	}
	for _, act := range []func() error{a.exam, a.procedures, a.close, a.afterwards} {
		if err := act(); err != nil {
			return err
		}
	}
	if a.rnd.IntN(4) == 0 {
		return a.strike(horses[a.rnd.IntN(len(horses))].Horse.ID)
	}
	return nil
}

func (a *actor) value() *exam.Value {
	taps := make([]float64, 12)
	for i := range taps {
		taps[i] = float64(i)*1.4 + a.rnd.Float64()/50
	}
	return &exam.Value{
		Kind: exam.KindCount, Number: &notation.Quantity{Value: 30 + 20*a.rnd.Float64(), Unit: notation.PerMinute},
		Count: &exam.Count{Method: exam.CountTapped, TapsS: taps},
	}
}

func (a *actor) exam() error {
	for i := range 8 + a.rnd.IntN(8) {
		k := exam.Key{Step: exam.StepID(fmt.Sprintf("step.%d", a.rnd.IntN(10))), Site: exam.Left}
		e := exam.Entry{Kind: exam.EntryFinding, Step: k.Step, Site: k.Site, Value: a.value()}
		if i%5 == 4 {
			e.Kind, e.Value, e.Reason = exam.EntryNotDone, nil, string(exam.ReasonRefused)
		}
		if old, ok := a.took.Finding(k); ok {
			e.Corrects = old.Seq
		}
		if err := a.put(e); err != nil {
			return err
		}
	}
	return a.put(exam.Entry{Kind: exam.EntryNote, Note: "quiet today"})
}

func (a *actor) procedures() error {
	list := []exam.Entry{
		{Kind: exam.EntryHandedOff, HandOff: &exam.HandOffLine{To: "Dr Vale", How: exam.ByTelephone, ReadBack: true}},
		{Kind: exam.EntryDecision, Decision: &exam.Decision{
			Words: "vaccinate, and draw for a count", Vet: "Dr Vale", How: exam.ByTelephone, Ruling: exam.GoAhead,
			Covers: []exam.CoveredProcedure{{Kind: exam.Injecting, Product: "vaccine", Dose: "1 dose"}, {Kind: exam.Drawing}},
		}},
	}
	for _, l := range []exam.InjectionLine{
		{Phase: exam.InjectionReady, Order: &exam.Order{Product: "vaccine", Lot: "A1", Dose: "1 dose", Route: exam.RouteIM, VolumeML: 1}},
		{Phase: exam.InjectionNeedleIn, Place: exam.NeedlePlace{Site: "neck", Side: exam.Left}},
		{Phase: exam.InjectionClear},
		{Phase: exam.InjectionGiven, VolumeML: 1},
	} {
		l.Number = 1
		list = append(list, exam.Entry{Kind: exam.EntryInjection, Injection: &l})
	}
	for _, l := range []exam.DrawLine{
		{Phase: exam.DrawReady, Order: &exam.DrawOrder{For: "count", Tubes: []exam.Tube{{Kind: "EDTA", ML: 3}}}},
		{Phase: exam.DrawNeedleIn, Place: exam.NeedlePlace{Site: "jugular", Side: exam.Left}},
		{Phase: exam.DrawTube, Tube: &exam.Tube{Kind: "EDTA", ML: 3}},
		{Phase: exam.DrawDone, VolumeML: 3},
	} {
		l.Number = 1
		list = append(list, exam.Entry{Kind: exam.EntryDraw, Draw: &l})
	}
	for _, e := range list {
		if err := a.put(e); err != nil {
			return err
		}
	}
	return nil
}

func (a *actor) close() error { return a.put(exam.Entry{Kind: exam.EntryClosed}) }

func (a *actor) afterwards() error {
	for range a.rnd.IntN(4) {
		f := a.took.Findings[a.rnd.IntN(len(a.took.Findings))]
		err := a.put(exam.Entry{
			Kind: exam.EntryFinding, Step: f.Step, Site: f.Site, Value: a.value(), Corrects: f.Seq, Amend: &exam.Amendment{Why: "read wrong"},
		})
		if err != nil {
			return err
		}
	}
	return a.put(exam.Entry{Kind: exam.EntryAdded, Note: "owner rang", Amend: &exam.Amendment{Why: "told later"}})
}

func (a *actor) strike(onto exam.HorseID) error {
	a.at = a.at.Add(time.Minute)
	struck, again, err := a.r.Strike(exam.Entry{
		Visit: a.open, Kind: exam.EntryStruck, At: a.at, By: "Ann", Amend: &exam.Amendment{Why: "the other horse"},
	}, onto)
	if err != nil {
		return err
	}
	if err := a.said(struck.ID, struck.Entries, struck.Last); err != nil {
		return err
	}
	return a.said(again.ID, again.Entries, again.Last)
}
