package script

import (
	"fmt"
	"strings"

	"loosebox/exam"
	"loosebox/exam/explain"
	"loosebox/exam/notation"
	"loosebox/exam/procedure/order"
)

// record is what rules of records ask for beside the exam: consent, who was there, a
// product under control. Nobody has to fill it in.
type record struct{ run }

func newRecord(at *order.Job, number int, _ Name) Script {
	return &record{run{Job: at, number: number}}
}

// Begun is always true: it belongs to the visit.
func (s *record) Begun() bool { return true }

// Title names the horse.
func (s *record) Title() string { return s.named("For the record") }

// State is empty.
func (s *record) State() string { return "" }

// Sources says who asks for it.
func (s *record) Sources() []explain.Section {
	return []explain.Section{{Head: "Who asks for it", Lines: []string{
		"consents given or withheld: RCVS code of professional conduct, 13.1",
		"who performed or supervised: Texas, 22 TAC 573.52",
		"a product under control: 21 CFR 1304.22(c), its list from memory; the legal log is separate",
	}}}
}

// Next is what may be written down, under what is written down already.
func (s *record) Next() Move {
	head := plain("", "All optional; the pages show what is filled in.")
	for _, n := range s.Visit.Notes {
		if n.Formality != nil {
			head = append(head, Text{Words: n.Formality.Words(s.Visit)})
		}
	}
	q := &Question{ID: "record", Listed: true, Head: head, Options: []Option{
		{Words: "consent, given or refused", Do: func() Move { return next(s.consent()) }},
		{Words: "who held the horse, who examined and who supervised", Do: func() Move { return next(s.attendance()) }},
	}}
	for _, i := range s.Visit.Injections {
		if i.Finished() && !i.Earlier() {
			q.Options = append(q.Options, Option{
				Words: fmt.Sprintf("injection %d of %s is under control: drawn, given, wasted, balance", i.Number, i.Product()),
				Do:    func() Move { return next(s.control(i)) },
			})
		}
	}
	return next(q)
}

// form is a question of fields, which is saved as a formality.
func (s *record) form(id, asks string, fields []order.Field, a order.Answers, made func() exam.Formality) *Question {
	return &Question{
		ID: "record " + id, Head: []Text{{Words: asks, Tone: Strong}}, Back: back(s), Leaving: "Nothing is saved yet. esc again goes back; what was typed is lost.",
		Form: &Form{Fields: fields, To: a, Action: "save it", Does: "save", Done: func() Move {
			f := made()
			if err := s.Visit.CheckFormality(f, s.By()); err != nil {
				return say(err.Error())
			}
			e := exam.Entry{Kind: exam.EntryNote, Note: s.Visit.NoteText(exam.VisitNote{Formality: &f}), Formality: &f}
			if s.Visit.Closed() {
				e.Reason = string(exam.AmendForRecord)
			}
			return Move{Write: []exam.Entry{e}, Told: "Saved. " + e.Note, Over: true}
		}},
	}
}

func (s *record) consent() *Question {
	a := order.Answers{"by": s.Horse.Owner, "how": string(exam.AllConsents()[0]), "given": string(consentGiven)}
	fields := []order.Field{
		{Key: "by", Label: "by", Ask: "Who gave or refused consent?", Limit: 60, Check: order.Named("say who gave or refused consent, by name")},
		{Key: "for", Label: "to what", Ask: "To what?", Limit: 120, Check: order.Needed("say what consent was asked for")},
		{Key: "given", Label: "it was", Ask: "Was it given or refused?", Choices: exam.ChoicesOf([]consentAnswer{consentGiven, consentRefused})},
		{Key: "how", Label: "how", Ask: "How?", Choices: exam.ChoicesOf(exam.AllConsents())},
		{Key: "words", Label: "in words", Ask: "What was said, or why was it refused? May stay empty.", Limit: notation.MaxNote},
	}
	return s.form("consent", "Consent of the owner, or of who stands in for the owner:", fields, a, func() exam.Formality {
		return exam.Formality{Consent: &exam.Consent{
			By: a.Get("by"), For: a.Get("for"), How: exam.ConsentHow(a.Get("how")), Refused: a.Get("given") == string(consentRefused), Words: a.Get("words"),
		}}
	})
}

func (s *record) attendance() *Question {
	a := order.Answers{"examined": s.Visit.By}
	role := func(string) string { return "veterinarian, technician, student, owner" }
	name := order.NamedIfAny("type a name, or nothing")
	fields := []order.Field{
		{Key: "handler", Label: "handler", Ask: "Who held the horse? May stay empty.", Limit: 60, Check: name},
		{Key: "examined", Label: "examined by", Ask: "Who examined?", Limit: 60, Check: name},
		{Key: "role", Label: "role", Ask: "In which role?", Limit: 40, Hint: role},
		{Key: "supervised", Label: "supervised by", Ask: "Who supervised? May stay empty.", Limit: 60, Check: name},
		{Key: "over", Label: "role", Ask: "In which role?", Limit: 40, Hint: role, Hidden: func() bool { return a.Get("supervised") == "" }},
	}
	return s.form("attendance", "Who was there:", fields, a, func() exam.Formality {
		return exam.Formality{Attendance: &exam.Attendance{
			Handler: a.Get("handler"), ExaminedBy: a.Get("examined"), ExaminedRole: a.Get("role"), SupervisedBy: a.Get("supervised"), SupervisedRole: a.Get("over"),
		}}
	})
}

func (s *record) control(i exam.Injection) *Question {
	a, nobodyElse := order.Answers{"wasted": "0"}, exam.NobodyElse.String()
	if !i.NotKnown {
		a.Put("given", notation.Plain(i.GivenML))
	}
	ml := func(key string) float64 {
		x, _ := order.ML(a.Get(key))
		return x
	}
	number := func(text string) error {
		_, err := order.ML(text)
		return err
	}
	comes := func(text string, want float64) string {
		if got, err := order.ML(text); want > 0 && (err != nil || !exam.WithinRounding(got, want, 0)) {
			return "it comes to " + notation.Plain(want) + " mL"
		}
		return ""
	}
	fields := []order.Field{
		{Key: "log", Label: "bottle or log", Ask: "Number of the bottle, or of the log?", Limit: 60, Check: order.Needed("say which bottle or log it is")},
		{Key: "drawn", Label: "drawn, mL", Ask: "How many mL were drawn up?", Limit: 12, Check: order.Above("more than 0 mL was drawn")},
		{Key: "given", Label: "given, mL", Ask: "How many mL were given?", Limit: 12, Check: number},
		{Key: "wasted", Label: "wasted, mL", Ask: "How many mL were wasted?", Limit: 12, Check: number, Hint: func(text string) string { return comes(text, ml("drawn")-ml("given")) }},
		{Key: "how", Label: "wasted how", Ask: "How was it wasted?", Limit: 80, Hidden: func() bool { return ml("wasted") <= 0 }},
		{Key: "before", Label: "balance before", Ask: "How many mL were there before?", Limit: 12, Check: number},
		{Key: "after", Label: "balance after", Ask: "How many mL are there now?", Limit: 12, Check: number, Hint: func(text string) string { return comes(text, ml("before")-ml("drawn")) }},
		{Key: "second", Label: "second person", Ask: "Who saw it, beside who gave it? Or: " + nobodyElse + ".", Limit: 60, Check: order.Named("name the second person, or: " + nobodyElse), Hint: func(string) string {
			return "by name; or: " + nobodyElse
		}},
	}
	return s.form("control", fmt.Sprintf("Injection %d, %s. This page is no log that a law asks for:", i.Number, notation.CleanLine(i.Product(), 40)), fields, a, func() exam.Formality {
		c := &exam.Control{
			Injection: i.Number, Log: a.Get("log"), DrawnML: ml("drawn"), GivenML: ml("given"), WastedML: ml("wasted"), WastedHow: a.Get("how"), BeforeML: ml("before"), AfterML: ml("after"),
		}
		if c.Second = a.Get("second"); strings.EqualFold(c.Second, nobodyElse) {
			c.Second, c.SecondMissing = "", true
		}
		if c.WastedML <= 0 {
			c.WastedHow = ""
		}
		return exam.Formality{Control: c}
	})
}

const recordHelp = `consent saves optional details for the record. Consent: given or refused, who and
how. People: who held the horse, examined and supervised, with their roles. For a
controlled product: drawn, given, wasted, balance and second person. The pages show
what is filled in. It does not replace a log that the law requires.`
