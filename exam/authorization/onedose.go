package authorization

import (
	"fmt"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// Doses says how far the order that a cover is has been used up in a visit.
type Doses struct {
	Allowed int // injections that the order lets be given
	Used    int // of them that something went in of, or may have
	// Last is the newest of the used, and Busy one that is begun and not finished.
	Last, Busy *exam.Injection
	// Next is the first moment of the next dose; zero where any will do.
	Next time.Time
}

// injections is how many injections a cover lets be given: one dose, unless it
// says how often, each in one site, unless it says in how many.
func injections(c exam.CoveredProcedure) int { return max(c.Times, 1) * max(c.Sites, 1) }

// DosesOf counts what went in of a decided order: the injections of its product and
// route that ended after the decision was first written down. Stopped with
// nothing given uses nothing up; given in part, or an amount that is not known,
// does. Except is the number of the injection that asks, 0 for none.
func DosesOf(v exam.Visit, d exam.Decided, c exam.CoveredProcedure, except int) Doses {
	out := Doses{Allowed: injections(c)}
	for n := range v.Injections {
		i := &v.Injections[n]
		if i.Number == except || i.Earlier() || !isOf(c, *i) {
			continue
		}
		switch {
		case !i.Finished():
			out.Busy = i
		case i.WentIn() && i.EndSeq > d.Since().Seq:
			out.Used++
			if out.Last == nil || out.Last.EndAt == nil || i.EndAt != nil && i.EndAt.After(*out.Last.EndAt) {
				out.Last = i
			}
		}
	}
	whole := out.Used%max(c.Sites, 1) == 0 // another site of the same dose need not wait
	if c.HoursApart > 0 && whole && out.Last != nil && out.Last.EndAt != nil {
		out.Next = out.Last.EndAt.Add(time.Duration(c.HoursApart * float64(time.Hour)))
	}
	return out
}

// isOf says that an injection is of the product and route of a cover, as it was
// ordered or as it was given.
func isOf(c exam.CoveredProcedure, i exam.Injection) bool {
	product := exam.ProductKey(c.Product)
	if exam.ProductKey(i.Order.Product) != product && exam.ProductKey(i.Product()) != product {
		return false
	}
	return c.Route == "" || c.Route == i.Order.Route || c.Route == i.Route()
}

// Left says that the order lets another injection be given, now or later.
func (d Doses) Left() bool { return d.Used < d.Allowed }

// locks is why no other injection may begin now; nil where one may.
func (d Doses) locks(vet string, c exam.CoveredProcedure, at time.Time) error {
	switch {
	case d.Busy != nil:
		return exam.Lock("Injection %d of %s is begun and not finished. Go on with it, or stop it first.", d.Busy.Number, c.Product)
	case !d.Left() && d.Allowed == 1:
		return exam.Lock("%s ordered one dose of %s. %s Another dose needs a new decision.", vet, c.Product, told(*d.Last, at))
	case !d.Left():
		return exam.Lock("%s ordered %s of %s. All were given. %s Another dose needs a new decision.", vet, c.Often(), c.Product, told(*d.Last, at))
	case at.Before(d.Next):
		return exam.Lock("%s ordered %s of %s. %s The next may go in from %s.", vet, c.Often(), c.Product, told(*d.Last, at), moment(d.Next, at))
	}
	return nil
}

// told says when an injection went in, and how much where that was not the dose.
func told(i exam.Injection, now time.Time) string {
	at := "before"
	if i.EndAt != nil {
		at = "at " + i.EndAt.In(now.Location()).Format("15:04 on 2 Jan 2006")
	}
	switch {
	case i.NotKnown:
		return fmt.Sprintf("An unknown amount was given %s. Ask the veterinarian about the rest.", at)
	case i.GivenML < i.Order.VolumeML && !exam.WithinRounding(i.GivenML, i.Order.VolumeML, i.Order.MarkML):
		return fmt.Sprintf("%s mL of %s mL was given %s. Ask the veterinarian about the rest.", notation.Plain(i.GivenML), notation.Plain(i.Order.VolumeML), at)
	}
	return fmt.Sprintf("%s mL was given %s.", notation.Plain(i.GivenML), at)
}

// moment is a time for a person, with its day where that is another than now's.
func moment(at, now time.Time) string {
	if notation.SameDay(at, now) {
		return notation.Clock(at, now)
	}
	return at.In(now.Location()).Format("15:04 on 2 Jan 2006")
}
