package script

import (
	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/procedure/order"
	"loosebox/exam/volume"
)

const (
	whyField = "why"
	inField  = "in"
)

// stop asks why something is stopped and how much went in, or was drawn: a key
// each, where the usual answers do.
type stop struct {
	id      string
	asks    string // the question of the reasons
	reasons []Reason
	why     exam.StopReason // the reason where it is known already; the reasons are not asked then
	amount  string          // the question of the amount; empty where nothing can have gone in
	holdsML float64
	more    []Option // answers beside the reasons
	done    func(why exam.StopReason, ml float64, known bool) Move
	back    func() *Question
}

// begin is the first question.
func (x stop) begin() *Question {
	if x.why != "" {
		return x.howMuch(x.why, x.back)
	}
	q := &Question{ID: x.id + " why", Head: append([]Text{{}}, asks(x.asks)...), Free: OwnWords, Back: x.back}
	for _, r := range x.reasons {
		q.Options = append(q.Options, Option{Key: r.Press, Words: r.Why.String(), Do: func() Move { return x.because(r.Why) }})
	}
	own := Option{Key: OwnWords, Words: "in other words", Do: func() Move { return next(x.words()) }}
	q.Options = append(append(q.Options, x.more...), own)
	return q
}

// words asks for a reason of one's own.
func (x stop) words() *Question {
	a := order.Answers{}
	return &Question{
		ID: x.id + " why in words", Head: asks(x.asks), Back: x.begin,
		Form: &Form{
			Fields: []order.Field{{Key: whyField, Label: "why", Ask: "Why? In a few words.", Limit: 160, Check: order.Needed("say why in a few words")}},
			To:     a, Action: "go on", Does: "go on", Done: func() Move { return x.because(exam.ReadStopReason(a.Get(whyField))) },
		},
	}
}

// because goes on to the amount, or writes it down.
func (x stop) because(why exam.StopReason) Move {
	if x.amount == "" {
		return x.done(why, 0, true)
	}
	return next(x.howMuch(why, x.begin))
}

// howMuch asks how much; an amount that is neither nothing nor what the tubes hold
// is typed.
func (x stop) howMuch(why exam.StopReason, back func() *Question) *Question {
	some := func(ml float64, known bool) func() Move { return func() Move { return x.done(why, ml, known) } }
	usual := Option{Key: "n", Words: "nothing", Do: some(0, true)}
	if x.holdsML > 0 {
		usual = Option{Key: "t", Words: "what the tubes hold: " + volume.Plain(x.holdsML) + " mL", Do: some(x.holdsML, true)}
	}
	return &Question{
		ID: x.id + " amount", Head: append([]Text{{}}, asks(x.amount, "why: "+notation.CleanLine(why.String(), 0))...), Free: "a", Back: back,
		Options: []Option{
			usual,
			{Key: "a", Words: "another amount, typed next", Do: func() Move { return next(x.typed(why, back)) }},
			{Key: "k", Words: order.NotKnown, Hint: "the veterinarian is told so", Do: some(0, false)},
		},
	}
}

// typed asks for the amount in mL.
func (x stop) typed(why exam.StopReason, back func() *Question) *Question {
	a := order.Answers{}
	return &Question{
		ID: x.id + " amount in mL", Head: asks(x.amount), Back: func() *Question { return x.howMuch(why, back) },
		Form: &Form{
			Fields: []order.Field{{Key: inField, Label: "mL", Ask: "How many mL?", Limit: 20, Check: order.CheckAmount, Hint: func(string) string {
				return "in mL, 0 for nothing; or: " + order.NotKnown
			}}},
			To: a, Action: "stopped: save it", Does: "save it",
			Done: func() Move {
				ml, known := order.ReadAmount(a.Get(inField))
				return x.done(why, ml, known)
			},
		},
	}
}
