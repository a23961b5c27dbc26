package script

import (
	"fmt"
	"strings"

	"loosebox/exam"
	"loosebox/exam/explain"
	"loosebox/exam/procedure"
	"loosebox/exam/procedure/order"
)

// danger is the signs of danger in and after an injection or a draw: what is seen,
// what to do first, what to tell the veterinarian. A sign that is chosen is written
// down at once, to the procedure that it was opened from.
type danger struct {
	run
	from Name
	// chosen is the sign that is being written down, said what is seen of it, where
	// what writing it down does, and before how many entries there were.
	chosen procedure.Danger
	said   string
	where  string
	before int
	list   *Question // the list, the cursor where it was
}

func newDanger(at *order.Job, number int, from Name) Script {
	return &danger{run: run{Job: at, number: number}, from: from}
}

// Begun is always true: what it shows needs no record.
func (s *danger) Begun() bool { return true }

// Title is the same for every horse, so that it is read at a glance.
func (s *danger) Title() string { return "Signs of danger" }

// State says where a sign would be written down, or where it was.
func (s *danger) State() string {
	switch {
	case s.Visit.ID == "":
		return ""
	case s.recorded():
		return s.where
	}
	return s.target().Words
}

// Sources says where the signs were read.
func (s *danger) Sources() []explain.Section { return order.DangerSources() }

func (s *danger) target() target { return targetOf(s.Visit, s.from, s.number) }

// recorded says that the chosen sign is stored.
func (s *danger) recorded() bool { return s.chosen.Key != "" && s.Visit.Entries > s.before }

// Next is the list, and what to read out once a sign is written down.
func (s *danger) Next() Move {
	if s.recorded() {
		return next(s.told())
	}
	if s.list == nil {
		s.list = s.signs()
	}
	s.list.Ask = "Which is seen? Its number (" + s.target().Words + "), or back."
	return next(s.list)
}

// signs is the list of the signs, with what to do first beside it, and behind them
// what is only read.
func (s *danger) signs() *Question {
	all := procedure.Dangers()
	rail := &Rail{
		Answer: Option{Words: "is seen", Hint: "choose what you see; it is saved with time, product, lot and amount"},
		Read:   Option{Words: "read", Hint: "more: normal signs, who reports, cautions"},
		Enter:  fmt.Sprintf("Press the number of what you see, 1 to %d.", len(all)),
	}
	for _, d := range all {
		rail.Pages = append(rail.Pages, RailLine{d.Title, sign(d, s.Call), func() Move {
			if s.Visit.ID == "" {
				return say("The visit cannot be read, so nothing can be saved. Do the first steps anyway.")
			}
			return next(s.seeing(d))
		}})
	}
	var cautions []Text
	for _, c := range procedure.Cautions() {
		cautions = append(cautions, Text{Words: c.Line})
	}
	rail.Pages = append(rail.Pages, RailLine{"Normal after an injection", plain(procedure.Expected), nil}, RailLine{"Who reports it", plain(procedure.Report), nil}, RailLine{"Cautions", cautions, nil})
	return &Question{ID: "danger signs", Rail: rail, Cautions: procedure.Cautions()}
}

// sign is whom to call and how, what to do first, then what is seen.
func sign(d procedure.Danger, how string) []Text {
	call := Text{Words: "CALL THE VET NOW", Tone: Alarm, Cut: true}
	if !d.Now {
		call = Text{Words: "TELL THE VET TODAY", Tone: Warn, Cut: true}
	}
	out := []Text{call}
	if how != "" {
		out = append(out, Text{Words: how, Tone: call.Tone})
	}
	out = append(out, first(d)...)
	return append(out, Text{Words: "Seen " + d.When + ":", Tone: Heading}, Text{Words: strings.Join(d.Seen, "; ")}, Text{Words: d.Evidence.String() + ": " + d.Sources, Tone: Faint})
}

// first is what to do first, numbered.
func first(d procedure.Danger) []Text {
	out := plain(d.First...)
	for i := range out {
		out[i].Mark = fmt.Sprintf("%d ", i+1)
	}
	return out
}

// seeing asks what is seen of a sign.
func (s *danger) seeing(d procedure.Danger) *Question {
	title := Text{Words: d.Title, Tone: Alarm, Cut: true}
	q := &Question{ID: "danger seen", Head: append([]Text{title}, first(d)...), Back: back(s), Ask: d.Title + ": what is seen?"}
	done := func(seen string) Move { return s.amount(d, seen, func() *Question { return q }) }
	q.Marks = &Several{Asks: "What is seen?", Lines: d.Seen, Done: done, Own: func(seen string) *Question {
		a := order.Answers{}
		return &Question{
			ID: "danger seen in words", Head: append([]Text{title}, plain(seen)...), Back: func() *Question { return q },
			Form: &Form{
				Fields: []order.Field{{Key: "words", Label: "seen", Ask: "What is seen? In a few words.", Limit: 160, Check: order.Needed("say what is seen in a few words")}},
				To:     a, Action: "go on", Does: "go on", Done: func() Move { return done(strings.TrimPrefix(seen+", "+a.Get("words"), ", ")) },
			},
		}
	}}
	return q
}

// amount asks how much went in, or was drawn, where that is asked, and writes the
// sign down; what is read out comes next.
func (s *danger) amount(d procedure.Danger, said string, back func() *Question) Move {
	to := s.target()
	record := func(_ exam.StopReason, ml float64, known bool) Move {
		s.where, s.chosen, s.said, s.before = to.Words, d, said, s.Visit.Entries
		return write(to.Entry(d, said, ml, known))
	}
	if to.Asks == "" {
		return record("", 0, true)
	}
	return next(stop{id: "danger", why: exam.StopReason(d.Title + ": " + said), amount: to.Asks, holdsML: to.DrawnML, done: record, back: back}.begin())
}

// told is what is read out to the veterinarian, once it is written down. Enter does
// not close it: the answer before it may have ended with enter.
func (s *danger) told() *Question {
	head := asks("It is saved. Read this to the veterinarian:", "")
	if s.Call != "" {
		head = append(head, Text{Words: s.Call, Tone: Alarm})
	}
	head = append(head, plain(readOut(s.Stand, s.from, s.number, s.chosen.Title+": "+s.said, s.Now())...)...)
	return &Question{
		ID: "danger told", Over: true, Head: append(append(head, Text{}), first(s.chosen)...),
		More:  []Option{{Key: ReadOutDone, Words: "was read out", Hint: "it was read: go back to the procedure", Do: func() Move { return Move{To: Destination{Kind: Back}} }}},
		Enter: &Option{Do: func() Move { return say("Press " + ReadOutDone + " after reading it.") }},
	}
}
