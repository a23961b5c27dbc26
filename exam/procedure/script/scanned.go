package script

import (
	"fmt"
	"time"

	"loosebox/exam/due"
	"loosebox/exam/gs1"
	"loosebox/exam/label"
	"loosebox/exam/notation"
	"loosebox/exam/procedure/order"
)

// scanned is a form into which the code of a package is scanned. Whatever can be read
// in two ways is asked; enter alone chooses nothing.
type scanned struct {
	to      order.Answers
	decided string // the product that the veterinarian decided; empty where the form asks for it
	given   bool   // it went in already: what had expired is written down, and said
	now     func() time.Time
	form    func() *Question
}

// read takes what the scanner typed.
func (s scanned) read(text string, known FindProduct) Move {
	code, err := gs1.Read(text, s.now())
	if err != nil {
		return say("The code is refused: " + err.Error() + ". Nothing was filled in.")
	}
	if len(code.Readings) == 1 && code.Sure {
		return s.look(code.Readings[0], code.Doubts, known)
	}
	q := s.asks("label which", "The code can be read in more than one way. Which one does the label say?", "The scanner did not send where one part ends. Compare each sign with the label.")
	for i, r := range code.Readings {
		q.Options = append(q.Options, Option{Words: r.Words(), Do: func() Move {
			var doubts []string
			if i == 0 {
				doubts = code.Doubts
			}
			return s.look(r, doubts, known)
		}})
	}
	if lot := notation.CleanLine(gs1.Plain(text), 60); !code.Sure {
		q.Options = append(q.Options, Option{Words: fmt.Sprintf("it is the lot number as it stands: %s", lot), Do: func() Move {
			s.to.Put(order.Lot, lot)
			return s.filled("lot " + lot)
		}})
	}
	q.Options = append(q.Options, s.none())
	return next(q)
}

// look refuses an expired package, and asks about what is odd before anything is filled in.
func (s scanned) look(r gs1.Interpretation, doubts []string, known FindProduct) Move {
	if err := label.Expired(r, s.now()); err != nil && !s.given {
		return say(err.Error() + ".")
	}
	if len(doubts) > 0 && r.Item() != "" { // that the item number is missing is said, not asked
		q := s.asks("label date", doubts[0], r.Words())
		q.Options = []Option{{Words: "yes, the label says the same", Do: func() Move { return s.product(r, known) }}, s.none()}
		return next(q)
	}
	return s.product(r, known)
}

// product compares what this practice called the item before with what was decided, and
// offers the words that were typed.
func (s scanned) product(r gs1.Interpretation, known FindProduct) Move {
	k, found := known(r.Item())
	switch {
	case !found:
		return s.fill(r)
	case s.decided != "" && !label.Same(k.Product, s.decided):
		q := s.asks("label product", fmt.Sprintf("This item number was saved before as %s. Decided is %s.", notation.CleanLine(k.Product, 60), notation.CleanLine(s.decided, 60)),
			s.saved(k), "Read the label. Is it what the veterinarian decided?")
		q.Head[0].Tone = Alarm
		q.Options = []Option{
			{Words: "no, it is the wrong package: fill in nothing", Do: func() Move {
				return Move{Next: s.form(), Say: "Nothing was filled in. Take the product that was decided."}
			}},
			{Words: "yes, the label names what was decided", Do: func() Move { return s.fill(r) }},
		}
		return next(q)
	case s.to.Holds(k) && (s.decided != "" || label.Same(s.to.Get(order.Product), k.Product)):
		return s.fill(r)
	}
	q := s.asks("label words", "These words were saved with this item number before. Does the label say the same?", k.Words(diseaseName), s.saved(k))
	q.Options = []Option{
		{Words: "yes, fill them in", Do: func() Move {
			s.to.Take(k)
			return s.fill(r)
		}},
		{Words: "no, only lot, expiry and numbers", Do: func() Move { return s.fill(r) }},
	}
	return next(q)
}

func (s scanned) saved(k label.SavedProduct) string {
	return fmt.Sprintf("Saved on %s by %s.", notation.ShownOn(k.On, s.now()), notation.CleanLine(k.By, 40))
}

func diseaseName(key string) string {
	t, err := due.BuiltIn()
	if err != nil {
		return key
	}
	return t.Name(key)
}

// fill fills in what the reading says.
func (s scanned) fill(r gs1.Interpretation) Move {
	s.to.Scan(r)
	text := r.Words()
	if r.Item() == "" {
		text += ". It has no item number: the package may have a second code, scan that too"
	}
	return s.filled(text)
}

// filled shows the form again, with the cursor on the first line that is empty.
func (s scanned) filled(text string) Move {
	q := s.form()
	for _, f := range q.Form.Fields {
		if !f.Off() && !f.Spare && s.to.Get(f.Key) == "" {
			q.Form.At = f.Key
			break
		}
	}
	return Move{Next: q, Say: "Filled in: " + text + ". Compare it with the label."}
}

func (s scanned) asks(id, question string, more ...string) *Question {
	return &Question{ID: id, Head: asks(question, more...), Back: s.form}
}

// none fills in nothing.
func (s scanned) none() Option {
	return Option{Words: "none of these: fill in nothing", Do: func() Move {
		return Move{Next: s.form(), Say: "Nothing was filled in. Type it from the label."}
	}}
}

// DoseForm is the ID of the question that stands for the form of a past dose.
const DoseForm = "past dose"

// ScanDose takes the code of a package for a dose that was given before: what it says
// is put into the answers, once nothing is left to ask. The way back to the form is a
// question with the ID DoseForm.
func ScanDose(to order.Answers, text string, known FindProduct, now func() time.Time) Move {
	s := scanned{to: to, given: true, now: now, form: func() *Question { return &Question{ID: DoseForm, Form: &Form{}} }}
	return s.read(text, known)
}
