package script

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/explain"
	"loosebox/exam/notation"
	"loosebox/exam/procedure"
	"loosebox/exam/procedure/order"
)

// watch is the time in which a horse is looked at after an injection: how long it
// still runs, what to look for, and how it ended.
type watch struct{ run }

func newWatch(at *order.Job, number int, _ Name) Script {
	return &watch{run{Job: at, number: number}}
}

// Begun says that the record has it.
func (s *watch) Begun() bool {
	_, ok := s.Visit.Injection(s.number)
	return ok
}

// Title names the horse.
func (s *watch) Title() string { return s.named("Observation") }

// State says after which injection.
func (s *watch) State() string {
	if !s.Begun() {
		return ""
	}
	return fmt.Sprintf("after injection %d", s.number)
}

// Sources says what the minutes rest on.
func (s *watch) Sources() []explain.Section { return order.WatchSources() }

// Next is the running watch, or how it ended.
func (s *watch) Next() Move {
	if s.number == 0 {
		s.number = s.first()
	}
	var w exam.Watch // the one that runs, or the last one that ran
	found := false
	for _, x := range s.Visit.Watches {
		if x.Injection == s.number && (!found || x.Running() || !w.Running()) {
			w, found = x, true
		}
	}
	var q *Question
	switch i, ok := s.Visit.Injection(s.number); {
	case found && w.Running():
		q = s.running(w)
	case found:
		q = s.ended(w)
	case ok && i.WentIn() && (!s.Visit.Closed() || s.Visit.OrderedAfterClosing(watches(exam.WatchLine{Injection: i.Number}))):
		q = s.beginWatch(i, back(s))
		q.Head = plain(fmt.Sprintf("Injection %d, %s, %s %s: not observed yet. The observation starts now.",
			i.Number, notation.CleanLine(i.Order.Product, 40), i.State, notation.Clock(*i.EndAt, s.Now())), "")
	default:
		q = s.none()
	}
	q.Stage = procedure.AtWatch
	return next(q)
}

// first is the injection whose watch ends first, or after which one is still to do.
func (s *watch) first() int {
	n := 0
	var ends time.Time
	for _, w := range s.Visit.Watching() {
		if n == 0 || w.Ends().Before(ends) {
			n, ends = w.Injection, w.Ends()
		}
	}
	if left := s.Visit.Unwatched(); n == 0 && len(left) > 0 {
		return left[0].Number
	}
	return n
}

// running is a watch that has not ended. It ends as over only when that is certain; where the clock of this laptop cannot be
// trusted n asks what another one says.
func (s *watch) running(w exam.Watch) *Question {
	at := s.Waits.Watch(s.Visit.ID, w, s.Now())
	until := notation.ClockDay(at.Ends, s.Now())
	clock := []Text{{}, {Words: clockText(at.Left) + " left", Tone: Digits, Cut: true}, {Words: fmt.Sprintf("of %d minutes, until %s", w.Minutes, until), Cut: true}}
	said := fmt.Sprintf("%s left of %d minutes, until %s.", at.Left.Round(time.Second), w.Minutes, until)
	quiet := Option{Key: "n", Words: "no reaction seen", Hint: "save that no reaction was seen", Also: []string{"quiet"}, Do: func() Move {
		return write(watches(exam.WatchLine{Injection: w.Injection, Phase: exam.WatchQuiet}))
	}}
	if at.Left == 0 {
		clock = []Text{{}, {Lead: "Time is up", Words: "since " + until, Tone: Strong, Cut: true}, {Words: "Check the horse. n: no reaction seen.", Cut: true}}
		said = fmt.Sprintf("Time is up (%s). Check the horse.", until)
	}
	switch {
	case at.Asks:
		if at.Left > 0 {
			clock[1].Words += " at most"
		}
		clock = append(clock, Text{Words: at.Doubt + " " + goByAnother, Tone: Strong})
		said += " " + at.Doubt + " " + goByAnother
		sure := quiet.Do
		quiet.Do = func() Move { return next(s.byAnother(w, at.Doubt, sure)) }
	case at.Doubt != "":
		clock = append(clock, Text{Words: at.Doubt})
		said += " " + at.Doubt
	case at.Left > 0:
		quiet.Off = "the observation is not over; x stops it and asks why"
	}
	var given []Text
	if i, ok := s.Visit.Injection(w.Injection); ok {
		given = []Text{{}, {Words: Injected(i, s.Now())}}
	}
	d, _ := procedure.FindDanger(procedure.Reaction)
	seen := strings.Join(d.Seen, "; ")
	look := append([]Text{{}, {Words: "Look for", Tone: Heading, Cut: true}},
		plain(seen, "Stay where you can see it, and out of its way.", "Any of these: ctrl+d, and call the veterinarian now.", procedure.Expected)...)
	head := slices.Concat(clock, given, look)
	if at.Doubt != "" { // a small window loses the last
		head = slices.Concat(clock, look, given)
	}
	return &Question{
		ID: "watch running", Head: head, Ticks: true,
		Ask: said + " Look for: " + seen + ". Any of these: type danger. " + procedure.Expected,
		More: []Option{
			quiet,
			{Key: "x", Words: "stop early", Hint: "stop the observation early, and say why", Also: []string{"left"}, Do: func() Move { return next(s.leaving(w)) }},
		},
		Prompts: []Option{{Also: []string{"wait"}, Words: "wait until it is over", Do: func() Move { return s.wait(w, at.Doubt) }}},
	}
}

// clockText is a time as minutes and seconds, 4:05; the seconds are not rounded up.
func clockText(d time.Duration) string {
	return fmt.Sprintf("%d:%02d", int(d.Minutes()), int(d.Seconds())%60)
}

// leaving asks why the watch is left before its end.
func (s *watch) leaving(w exam.Watch) *Question {
	return stop{
		id: "watch left", asks: "The observation stops early. Who checks the horse now?", reasons: WhyLeft(), back: back(s),
		done: func(why exam.StopReason, _ float64, _ bool) Move {
			return write(watches(exam.WatchLine{Injection: w.Injection, Phase: exam.WatchLeftEarly, Why: why}))
		},
	}.begin()
}

const minutesField = "minutes"

// beginWatch begins the watch after an injection: the practice's minutes stand in
// it, where it has set any. x declines it, with a reason.
func (r *run) beginWatch(i exam.Injection, back func() *Question) *Question {
	a := order.Answers{}
	n, offered := r.Rules.WatchMinutes, "no minutes are set"
	if n > 0 {
		a.Put(minutesField, strconv.Itoa(n))
		offered = fmt.Sprintf("begin alone: %d minutes, as set by the practice", n)
	}
	declining := stop{
		id: "watch declined", asks: "The horse is not observed after the injection. Why?", reasons: WhyDeclined(), back: back,
		done: func(why exam.StopReason, _ float64, _ bool) Move {
			return write(watches(exam.WatchLine{Injection: i.Number, Phase: exam.WatchDeclined, Why: why}))
		},
	}
	return &Question{
		ID: "watch begin", Ask: fmt.Sprintf("Injection %d, %s: not observed yet. Type begin and the minutes (%s), or x and the reason.",
			i.Number, notation.CleanLine(i.Order.Product, 40), offered),
		More: []Option{{Key: "x", Words: "decline", Hint: "the horse is not observed, and say why", Also: []string{"decline"}, Do: func() Move { return next(declining.begin()) }}},
		Form: &Form{
			Fields: []order.Field{{Key: minutesField, Label: "minutes", Limit: 8, Check: func(text string) error {
				_, err := readMinutes(text)
				return err
			}, Hint: func(string) string { return order.WatchSource }}},
			To: a, Action: "start the observation", Does: "begin", Word: "begin", Numbers: true, AtEnd: n > 0,
			Done: func() Move {
				n, _ := readMinutes(a.Get(minutesField))
				return Move{Write: []exam.Entry{watches(exam.WatchLine{Injection: i.Number, Phase: exam.WatchBegun, Minutes: n})}, Told: "Saved: the observation is started.", Over: true}
			},
		},
	}
}

func readMinutes(text string) (int, error) {
	n, err := strconv.Atoi(strings.TrimSuffix(text, " min"))
	if err != nil || n < 1 || n > 24*60 {
		return 0, &notation.Refusal{Typed: text, Why: "whole minutes, from 1 to a day"}
	}
	return n, nil
}

// none says that there is nothing to watch.
func (s *watch) none() *Question {
	return &Question{
		ID: "watch none", Head: plain("", "No observation runs in this visit. One starts when an injection is given."), Listed: true,
		Options: []Option{{Words: "back", Do: func() Move { return Move{To: Destination{Kind: Back}} }}},
		Ends:    exam.NoSuch("no observation runs in this visit; one starts when an injection is given"),
	}
}

// ended says how the watch ended.
func (s *watch) ended(w exam.Watch) *Question {
	head := []Text{{Words: "Saved: " + w.State.String(), Tone: Strong, Cut: true}}
	if w.State == exam.WatchDeclined {
		head = append(head, Text{Words: fmt.Sprintf("%s, by %s", notation.Clock(w.At, s.Now()), notation.CleanLine(w.By, 40)), Cut: true})
	} else {
		head = append(head, Text{Words: fmt.Sprintf("%d minutes from %s, to %s, by %s", w.Minutes, notation.Clock(w.At, s.Now()), notation.Clock(*w.EndAt, s.Now()), notation.CleanLine(w.EndBy, 40)), Cut: true})
	}
	if w.Why != "" {
		head = append(head, Text{Words: "why: " + notation.CleanLine(w.Why.String(), 0), Cut: true})
	}
	if w.SignWords != "" {
		head = append(head, tellVet(w.SignWords))
	}
	return &Question{ID: "watch ended", Head: head, Listed: true, Over: true, Options: []Option{{Words: "back", Do: func() Move { return Move{To: Destination{Kind: Back}} }}}}
}

const watchHelp = `observe shows the observation of a horse after an injection: the time left and what
to look for. It records how it ended: no reaction, a reaction, or stopped early
with the reason. It also starts or declines an observation. --number is the number
of the injection (default: the observation that ends first). --decline REASON saves
at once that the horse is not observed.`
