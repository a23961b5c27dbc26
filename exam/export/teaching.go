package export

import (
	"crypto/ed25519"
	"fmt"
	"slices"
	"time"

	"github.com/google/uuid"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/signedlog"
)

// Teaching makes copies of visits from which nobody is to be known again. It copies
// only what is named here; whatever an entry may hold one day stays out until it
// is named too. Gone are owner, place, names of horses and people, chip and other
// numbers, markings, lots, and every text that was typed freely. Dates are moved by
// one span for each horse, so that intervals, ages and times of day stay.
//
// It hides who it was from a student; it is no proof against somebody who knows
// the yard: a rare breed or finding can still give a horse away.
type Teaching struct {
	// Shift gives the days by which a horse's dates are moved; NewID new
	// identities, UUIDs.
	Shift func() int
	NewID func() string

	people map[string]string
	horses int
}

// Copy copies the visits of one horse, each with all its entries, oldest first: the
// horse, then its visits.
func (t *Teaching) Copy(visits [][]exam.Entry) (exam.HorseLine, [][]exam.Entry) {
	if t.people == nil {
		t.people = map[string]string{}
	}
	t.horses++
	days := t.Shift()
	id := exam.HorseID(t.NewID())
	var known exam.HorseLine
	out := make([][]exam.Entry, len(visits))
	for i, entries := range visits {
		visit := exam.VisitID(t.NewID())
		for _, e := range entries {
			c := t.entry(e, days)
			c.Visit = visit
			if c.Opening != nil {
				h := &c.Opening.Horse
				h.ID, h.Name, h.Revision = id, fmt.Sprintf("Horse %d", t.horses), 1
				known = exam.HorseLine{Horse: *h, By: c.By, At: c.At}
			}
			out[i] = append(out[i], c)
		}
	}
	return known, out
}

// Log makes one log of horses and visits that are in none.
type Log struct{ b *signedlog.Builder }

// NewLog begins a log for a key that is thrown away afterwards; take gets its segments.
func NewLog(key ed25519.PrivateKey, take func(signedlog.Segment) error) *Log {
	return &Log{signedlog.NewBuilder(key, signedlog.Nonce{}, take)}
}

// Horse adds a horse and its visits.
func (l *Log) Horse(h exam.HorseLine, visits [][]exam.Entry) error {
	if _, err := l.add(exam.LineHorse, h); err != nil {
		return err
	}
	for _, entries := range visits {
		numbers := new(exam.Numbers)
		for _, e := range entries {
			e, err := numbers.Identify(e)
			if err != nil {
				return err
			}
			identity, err := l.add(exam.LineEntry, e)
			if err != nil {
				return err
			}
			numbers.Next(e, identity)
		}
	}
	return nil
}

func (l *Log) add(kind exam.LineKind, what any) (exam.Hash, error) {
	body, err := exam.LineBody(kind, what)
	if err != nil {
		return "", err
	}
	digest, err := l.b.Add(body)
	return exam.Hash(digest.String()), err
}

// Close ends the log.
func (l *Log) Close() error { return l.b.Close() }

// person is the same letterless name for the same person all through the export.
func (t *Teaching) person(name string) string {
	if name == "" {
		return ""
	}
	if _, ok := t.people[name]; !ok {
		t.people[name] = fmt.Sprintf("person %d", len(t.people)+1)
	}
	return t.people[name]
}

// entry copies what may be copied of an entry; Visit and Prev are left empty.
func (t *Teaching) entry(e exam.Entry, days int) exam.Entry {
	c := exam.Entry{
		Seq: e.Seq, At: moved(e.At, days), By: t.person(e.By), Kind: e.Kind, Step: e.Step, Site: e.Site, Corrects: e.Corrects,
		Value: value(e.Value), Reason: reason(e.Reason), Note: leftOut(e.Note), Settles: e.Settles, Apart: e.Unseen,
	}
	if e.Opening != nil {
		c.Opening = &exam.Opening{Horse: horse(e.Opening.Horse, days), Routine: e.Opening.Routine}
	}
	if e.Context != nil {
		c.Context = &exam.Context{States: e.Context.States, Air: e.Context.Air, Humid: e.Context.Humid, Medicines: e.Context.Medicines, Given: leftOut(e.Context.Given)}
	}
	if h := e.HandOff; h != nil {
		c.HandOff = &exam.HandOffLine{To: t.person(h.To), How: h.How, ReadBack: h.ReadBack}
	}
	if d := e.Decision; d != nil {
		c.Decision = &exam.Decision{Vet: t.person(d.Vet), How: d.How, Ruling: d.Ruling, Covers: d.Covers, ReadBack: d.ReadBack}
		if d.Until != nil {
			until := moved(*d.Until, days)
			c.Decision.Until = &until
		}
	}
	c.Injection, c.Draw = t.injection(e.Injection, days), t.draw(e.Draw)
	if w := e.Watch; w != nil {
		c.Watch = &exam.WatchLine{Injection: w.Injection, Phase: w.Phase, Minutes: w.Minutes, Sign: w.Sign}
	}
	if r := e.Reading; r != nil {
		c.Reading = &exam.ReadingLine{Role: r.Role}
	}
	if r := e.Recheck; r != nil {
		c.Recheck = &exam.RecheckLine{On: movedDay(r.On, days), What: "recheck"}
		if r.Time != nil {
			at := moved(*r.Time, days)
			c.Recheck.Time = &at
		}
	}
	return c
}

func horse(h exam.Horse, days int) exam.Horse {
	c := exam.Horse{
		Revision: h.Revision, Kind: h.Kind, Sex: h.Sex, InFoal: h.InFoal, FoalDue: movedDay(h.FoalDue, days), Dam: h.Dam, Breed: h.Breed,
		Birth: exam.Birth{At: h.Birth.At, Precision: h.Birth.Precision},
	}
	if !h.Birth.At.IsZero() {
		c.Birth.At = moved(h.Birth.At, days)
	}
	return c
}

// leftOut keeps it seen that there was a text.
func leftOut(text string) string {
	if text == "" {
		return ""
	}
	return "(left out)"
}

// value copies a value without the words that were typed.
func value(v *exam.Value) *exam.Value {
	if v == nil {
		return nil
	}
	c := *v
	c.Text, c.Typed, c.Measured = "", "", leftOut(c.Measured)
	return &c
}

// reason keeps a reason that is one of the list; a text of one's own is "other".
func reason(text string) string {
	if text == "" || slices.Contains(exam.Reasons(), exam.Reason(text)) {
		return text
	}
	return string(exam.ReasonOther)
}

func (t *Teaching) injection(l *exam.InjectionLine, days int) *exam.InjectionLine {
	if l == nil {
		return nil
	}
	c := &exam.InjectionLine{
		Number: l.Number, Phase: l.Phase, Checks: checks(l.Checks), Place: exam.NeedlePlace{Site: l.Place.Site, Side: l.Place.Side}, Needle: l.Needle,
		VolumeML: l.VolumeML, Sign: l.Sign, Afterwards: l.Afterwards, NotKnown: l.NotKnown, On: movedDay(l.On, days), SeriesDone: l.SeriesDone,
	}
	if o := l.Order; o != nil {
		c.Order = &exam.Order{
			Product: o.Product, Active: o.Active, Strength: o.Strength, Dose: o.Dose, VolumeML: o.VolumeML, WeightKg: o.WeightKg, Route: o.Route,
			Against: o.Against, Decision: o.Decision, SupervisedBy: t.person(o.SupervisedBy), Witness: t.person(o.Witness), NextDue: movedDay(o.NextDue, days),
		}
	}
	return c
}

func (t *Teaching) draw(l *exam.DrawLine) *exam.DrawLine {
	if l == nil {
		return nil
	}
	c := &exam.DrawLine{
		Number: l.Number, Phase: l.Phase, Checks: checks(l.Checks), Place: exam.NeedlePlace{Site: l.Place.Site, Side: l.Place.Side}, Needle: l.Needle,
		VolumeML: l.VolumeML, Sign: l.Sign, Afterwards: l.Afterwards, NotKnown: l.NotKnown,
	}
	if l.Tube != nil {
		c.Tube = &exam.Tube{Kind: l.Tube.Kind, ML: l.Tube.ML, Inversions: l.Tube.Inversions, Short: l.Tube.Short}
	}
	if o := l.Order; o != nil {
		c.Order = &exam.DrawOrder{Official: o.Official, VetDraws: t.person(o.VetDraws), Decision: o.Decision}
		for _, tube := range o.Tubes {
			c.Order.Tubes = append(c.Order.Tubes, exam.Tube{Kind: tube.Kind, ML: tube.ML, Inversions: tube.Inversions})
		}
	}
	return c
}

func checks(list []exam.Checked) []exam.Checked {
	var out []exam.Checked
	for _, c := range list {
		out = append(out, exam.Checked{Key: c.Key, OK: c.OK})
	}
	return out
}

func moved(at time.Time, days int) time.Time { return at.AddDate(0, 0, days) }

// movedDay moves a day; one that is only known to its month or year goes to the
// month or year of its middle.
func movedDay(day string, days int) string {
	for _, form := range []string{notation.DayForm, "2006-01", "2006"} {
		if at, err := time.Parse(form, day); err == nil {
			return moved(at, days).Format(form)
		}
	}
	return ""
}

// NewID is a UUID of version 4, whose bytes say nothing about a time.
func NewID() string { return uuid.NewString() }
