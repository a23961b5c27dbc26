package fhir

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"loosebox/exam"
	"loosebox/exam/due"
	"loosebox/exam/gs1"
	"loosebox/exam/notation"
)

// packageOf is what is said of the package of a vaccine beside its lot: maker, expiry, item number and serial.
func packageOf(im immunization, o *exam.Order) {
	if im.Manufacturer != nil {
		o.Maker = notation.CleanLine(im.Manufacturer.Display, 0)
	}
	if im.ExpirationDate != "" {
		o.Expiry, _ = notation.ReadExpiry(im.ExpirationDate) // one that cannot be read is not known
	}
	if item, ok := gs1.ItemNumber(im.VaccineCode.code(systemItem)); ok {
		o.Item = item
	}
	o.Serial = notation.CleanLine(said(im.Extension, extensionSerial).ValueString, 0)
	if day := said(im.Extension, extensionNotForFood).ValueDate; partialDate(day) {
		o.NotForFoodTo = day
	}
	for _, n := range im.Note {
		if dose, ok := strings.CutPrefix(n.Text, orderedWords); ok {
			o.Dose = notation.CleanLine(dose, 0)
		}
		if day, ok := strings.CutPrefix(n.Text, nextDueWords); ok {
			o.NextDue = notation.CleanLine(day, 0)
		}
	}
}

// said is the extension of an address; empty for none.
func said(list []extension, url string) extension {
	for _, e := range list {
		if e.URL == url {
			return e
		}
	}
	return extension{}
}

func (r *reader) readImmunization(res *resource) error {
	im, err := as[immunization](res)
	if err != nil {
		return err
	}
	_, a, err := r.animal(im.Patient)
	switch {
	case err != nil:
		return err
	case r.refuses(res, im.Encounter):
		return nil
	case im.Status != "completed" || im.IsSubpotent != nil && *im.IsSubpotent:
		return fmt.Errorf("it is %s, or not the whole dose, and no past dose", notation.CleanLine(im.Status, 30))
	}
	recorder := notation.CleanLine(said(im.Extension, extensionRecorder).ValueString, 0)
	o := exam.Order{Product: notation.CleanLine(im.VaccineCode.words(), 0), Lot: notation.CleanLine(im.LotNumber, 0)}
	packageOf(im, &o)
	for _, p := range im.ProtocolApplied {
		for _, d := range p.TargetDisease {
			key, ok := due.KeyNamed(d.words())
			if !ok {
				return fmt.Errorf("it is against %q, which the schedule does not have", notation.CleanLine(d.words(), 40))
			}
			if !slices.Contains(o.Against, key) {
				o.Against = append(o.Against, key)
			}
		}
	}
	on := im.OccurrenceDateTime
	if len(on) > 10 {
		on = on[:10]
	}
	line := exam.InjectionLine{Phase: exam.InjectionNoted, On: on, Order: &o, SeriesDone: said(im.Extension, extensionSeries).ValueBoolean}
	if v := r.of[res.url]; v != nil && recorder != "" { // noted there as a past dose: it is one here, as it stands
		if im.ReportOrigin != nil {
			line.Basis = notation.CleanLine(im.ReportOrigin.words(), 0)
		}
		v.told = append(v.told, &told{Entry: exam.Entry{Kind: exam.EntryInjection, At: moment(im.Recorded), By: recorder, Injection: &line}})
		return nil
	}
	switch {
	case len(o.Against) == 0:
		return errors.New("it does not say against what")
	case !partialDate(on):
		return errors.New("its day is not known")
	}
	line.Basis = "another system"
	if im.ReportOrigin != nil {
		line.Basis = notation.CleanLine(im.ReportOrigin.words()+", by another system", 0)
	}
	a.Doses = append(a.Doses, line)
	return nil
}
