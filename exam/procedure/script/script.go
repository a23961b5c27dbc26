// Package script says how an injection, a blood draw, a watch and a sign of danger
// go, each as questions with their answers, what an answer stores and what comes
// next. Screens and plain prompts draw the same questions; nothing here draws,
// reads a clock or writes.
//
// Each state is a function that returns a Question (what is asked, its answers with their
// letters, its cautions), each answer returns a Move (the lines to store, the next
// question). After each durable line Next names the question for the visit as the record
// has it. Forms and check lists are in package order.
package script

import (
	"errors"
	"fmt"

	"loosebox/exam"
	"loosebox/exam/authorization"
	"loosebox/exam/explain"
	"loosebox/exam/notation"
	"loosebox/exam/procedure/order"
)

// Script is one procedure of a visit. What it was told stays in it between two
// questions; everything else it reads in the visit as it stands.
type Script interface {
	// Next is what is asked for the visit as it stands.
	Next() Move
	// Title names procedure and horse, State how far it is.
	Title() string
	State() string
	// Number is that of the injection or the draw; 0 while it has none.
	Number() int
	// Begun says that the record has it.
	Begun() bool
	// By is who signs what is stored.
	By() string
	// Sources says where its numbers come from; empty where it shows none.
	Sources() []explain.Section
}

// run is what every script has.
type run struct {
	*order.Job
	number int
	by     string // who signs; empty for who works now
	// lately is the entry of the needle that went in while this script ran; of any
	// other needle the person is asked what happened.
	lately int
	// looked is the number of what was ordered and checked before this script ran and was looked at again.
	looked int
}

// Number is the number of what is done.
func (r *run) Number() int { return r.number }

// By is who signs.
func (r *run) By() string {
	if r.by == "" {
		return r.Person
	}
	return r.by
}

// signs is who signs on with something that somebody began.
func (r *run) signs(began string) {
	if r.by = began; r.Named {
		r.by = ""
	}
}

// named is the name and age of the horse behind a title.
func (r *run) named(title string) string {
	h := r.Horse
	return fmt.Sprintf("%s · %s, %s", title, notation.CleanLine(h.Name, 30), h.AgeWords(r.Visit.OpenedAt))
}

// back is what comes next for the visit as it stands, for the way back to it.
func back(s Script) func() *Question { return func() *Question { return s.Next().Next } }

func next(q *Question) Move      { return Move{Next: q} }
func write(e ...exam.Entry) Move { return Move{Write: e} }
func say(text string) Move       { return Move{Say: text} }

func inject(l exam.InjectionLine) exam.Entry {
	return exam.Entry{Kind: exam.EntryInjection, Injection: &l}
}

func draws(l exam.DrawLine) exam.Entry { return exam.Entry{Kind: exam.EntryDraw, Draw: &l} }

func watches(l exam.WatchLine) exam.Entry { return exam.Entry{Kind: exam.EntryWatch, Watch: &l} }

// given are the lines that end an injection as given: the line itself, and the
// beginning of the watch where the practice has set its minutes.
func (r *run) given(l exam.InjectionLine) Move {
	w, watched := exam.Injection{Number: l.Number, State: exam.InjectionGiven}.Begin(r.Rules.WatchMinutes)
	if !watched {
		return write(inject(l))
	}
	return write(inject(l), watches(w))
}

// asks is a question that stands out, with what is known under it.
func asks(question string, more ...string) []Text {
	return append([]Text{{Words: question, Tone: Strong}}, plain(more...)...)
}

// plain are lines of a head.
func plain(words ...string) []Text {
	var out []Text
	for _, w := range words {
		out = append(out, Text{Words: w})
	}
	return out
}

// tellVet is what the veterinarian is told.
func tellVet(text string) Text {
	return Text{Lead: "TELL THE VET", Words: notation.CleanLine(text, 0)}
}

// afterExam leads to what follows the exam.
func afterExam() Move { return Move{To: Destination{Kind: Hub}} }

// hub is an answer that leads there.
func hub() Option {
	return Option{Words: "after the exam", Hint: "what else was decided", Do: afterExam}
}

// locked shows why nothing can be entered, and the way on. The further keys write
// down what happened, which can always be done.
func locked(why error, more ...Option) *Question {
	return &Question{
		ID: "locked", Locked: true, Ends: why, More: more,
		Head: []Text{
			{},
			{Words: "LOCKED", Tone: Alarm},
			{},
			{Words: why.Error(), Tone: Strong},
			{},
			{Words: "enter: go to hand-off and decision of this visit first.", Tone: Faint},
		},
		Enter: &Option{Words: "after the exam", Hint: "go to hand-off and decision of this visit", Do: afterExam},
	}
}

// other leads to a needle that is written down as in and not as out: it is
// answered for before another one goes in.
func (r *run) other(name Name, number int) Move {
	text := fmt.Sprintf("The needle of %s %d is recorded as inserted, not as removed.", name, number)
	return next(&Question{
		ID: "other needle", Head: append([]Text{{}}, asks(text)...), Listed: true,
		Options: []Option{{Words: "say what happened to it", Do: func() Move { return Move{To: Destination{To, name, number}} }}},
		Ends: fmt.Errorf("the needle of %s %d is recorded as inserted, not as removed; loosebox %s %s records what happened",
			name, number, KindOf(name).Command, r.Visit.ID),
	})
}

// behind says before a needle goes in that the clock is behind the horse's newest visit.
func (r *run) behind() []Text {
	if text := r.Behind(r.Now()); text != "" {
		return []Text{{Words: text, Tone: Warn}}
	}
	return nil
}

// askThere says before a needle goes in that a colleague has an exam of their own of the horse
// open on another laptop: what is given there is not known here yet.
func (r *run) askThere() []Text {
	var out []Text
	for _, o := range r.AtOnce {
		if !o.Closed() {
			out = append(out, Text{Words: "Another exam of this horse is open: " + o.HeldBy(r.Now()) + ". Ask there what was given.", Tone: Strong})
		}
	}
	return out
}

// elsewhere asks before a needle goes in where another laptop puts them in: one person
// alone gives, and the two may not hear of each other.
func (r *run) elsewhere() *Question {
	why := authorization.Elsewhere(r.Visit, r.Now())
	a := order.Answers{"you": r.Person}
	if r.Person == r.Visit.By {
		a.Put("you", "") // who opened it there; whoever sits here says so
	}
	return &Question{
		ID: "elsewhere", Ends: why,
		Head: append([]Text{{}, {Words: "ANOTHER LAPTOP PUTS THE NEEDLES IN", Tone: Alarm}, {}},
			asks(fmt.Sprintf("%s opened this visit on another laptop at %s.", notation.CleanLine(r.Visit.By, 30), notation.Clock(r.Visit.OpenedAt, r.Now())),
				"One laptop alone puts needles in, so that nothing is given twice.",
				"Ask there first: is anything given already, is a needle in?")...),
		Form: &Form{
			Fields: []order.Field{
				{Key: "you", Label: "your name", Ask: "Who takes it over? Your name:", Limit: 60, Check: order.Named("type your name")},
				{Key: "asked", Label: "asked", Ask: "Who was asked there? Type nobody where nobody can be reached.", Limit: 60, Check: order.Named("type who was asked, or nobody")},
			},
			To: a, Action: "take it over: nobody gives anything there", Does: "take over", Done: func() Move {
				r.by = notation.CleanLine(a.Get("you"), 0)
				return Move{
					Write: []exam.Entry{{Kind: exam.EntryTaken, Reason: string(exam.AmendTakenOver), Taken: &exam.TakenLine{From: notation.CleanLine(a.Get("asked"), 0)}}},
					Told:  "This laptop puts the needles in now.",
				}
			},
		},
	}
}

// refusal is what an error that a person can put right says; false for any other.
func refusal(err error) (string, bool) {
	var r *notation.Refusal
	return fmt.Sprint(err), errors.As(err, &r)
}

const leaving = "A needle is in. esc again leaves; you are asked about it when you come back."
