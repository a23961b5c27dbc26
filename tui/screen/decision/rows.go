package decision

import (
	"fmt"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/procedure"
	"loosebox/tui/entry"
	"loosebox/tui/nav"
	"loosebox/tui/screen/form"
)

// mostProducts is how many injections one decision names here; more are a second
// decision.
const mostProducts = 6

// anyRoute is the choice that names no route.
const anyRoute = "any"

// rows are the lines of a decision.
type rows struct {
	form            *form.Form
	vet, words      *form.Text
	how, ruling     *form.OneOf
	products        []product
	draw            *form.Said
	back            *form.Several
	until, on, what *form.Text
	recheck         exam.RecheckLine // as it stood
	by, reason      *form.Text
	stands          exam.Decided // the one that is corrected
}

func (r *rows) corrects() bool { return r.stands.Seq > 0 }

// product are the lines of one injection.
type product struct {
	name, dose, often *form.Text
	route             *form.OneOf
}

func newRows(s *screen) *rows {
	deps, v, stands := s.Deps, s.seen.Visit, s.stands
	o := s.Options()
	r := &rows{form: form.New(deps.Theme, "save the decision", "decide"), stands: stands}
	d, recheck := stands.Decision, exam.RecheckLine{}
	if !r.corrects() {
		d = offered(v)
	}
	if line := v.RecheckOf(stands.Seq); line != nil {
		recheck = *line
	}
	r.vet = form.NewText("veterinarian", d.Vet, 0, form.Named("type the veterinarian's name"), o)
	r.how = form.NewOneOf("how given", exam.ChoicesOf(exam.AllMeans()), string(d.How), o)
	r.words = form.NewText("in these words", d.Words, notation.MaxNote, form.Needed("type the veterinarian's own words"), o).Hint(func(string) string {
		if r.how.Chosen() == string(exam.StandingOrder) {
			return "the standing order: title, number and date"
		}
		return "the exact words"
	}).Long()
	r.ruling = form.NewOneOf("decision", rulings(), string(d.Ruling), o)
	add := func(row form.Widget, hidden func() bool) { r.form.Add(row, hidden) }
	add(r.vet, nil)
	add(r.how, nil)
	add(r.words, nil)
	add(r.ruling, nil)
	r.addCovers(d.Covers, o, add)
	r.addEnd(deps, o, add)
	r.addRecheck(recheck, deps, o, add)
	r.by = form.NewPerson(deps.Person(v), form.InitialsOfEntries, o)
	add(r.by, nil)
	why, sentence := "why corrected", "say why it is corrected"
	if !r.corrects() {
		why, sentence = "why now", "the visit is closed: type why this is added now"
	}
	r.reason = form.NewText(why, "", 0, form.Needed(sentence), o)
	add(r.reason, func() bool { return !r.corrects() && !v.Closed() })
	s.Begin(r.form)
	if d.Vet != "" {
		r.form.Go(r.words)
	}
	return r
}

// offered is what stands in a new decision: who was told last and how. Nothing
// of what is decided is filled in.
func offered(v exam.Visit) exam.Decision {
	d := exam.Decision{How: exam.Here, Ruling: exam.Wait}
	if n := len(v.HandOffs); n > 0 {
		d.Vet, d.How = v.HandOffs[n-1].To, v.HandOffs[n-1].How
	} else if n := len(v.Decisions); n > 0 {
		d.Vet, d.How = v.Decisions[n-1].Vet, v.Decisions[n-1].How
	}
	return d
}

func (r *rows) addCovers(covers []exam.CoveredProcedure, o entry.Options, add func(form.Widget, func() bool)) {
	var drawn *exam.CoveredProcedure
	var injected []exam.CoveredProcedure
	for _, c := range covers {
		if c.Kind == exam.Drawing {
			drawn = &c
		} else {
			injected = append(injected, c)
		}
	}
	for i := range max(mostProducts, len(injected)) {
		var c exam.CoveredProcedure
		if i < len(injected) {
			c = injected[i]
		}
		label := "injection of"
		if i > 0 {
			label = "second product"
		}
		p := product{
			name: form.NewText(label, c.Product, 0, nil, o).Hint(r.coverHint),
			dose: form.NewText("dose", c.Dose, 0, func(text string) error {
				if text == "" && r.ruling.Chosen() != string(exam.GoAhead) {
					return nil
				}
				_, err := procedure.ReadDose(text)
				return err
			}, o).Hint(func(string) string {
				return "as the veterinarian said it, with its unit: 10 mL, 2.2 mg/kg, 5000 IU, 1 dose"
			}),
			route: form.NewOneOf("route", routes(), string(c.Route), o),
			often: form.NewText("how often", c.Often(), 0, func(text string) error {
				_, err := exam.CoveredProcedure{}.ReadOften(text)
				return err
			}, o).Hint(func(string) string { return "empty: one dose in one site; or: 3 times, 12 h apart; or: 2 sites" }),
		}
		r.products = append(r.products, p)
		named := func() bool { return p.name.Content() != "" }
		first := i == 0
		before := i - 1
		add(p.name, func() bool { return !first && r.products[before].name.Content() == "" && !named() })
		add(p.route, func() bool { return !named() })
		add(p.dose, func() bool { return !named() })
		add(p.often, func() bool { return !named() || p.dose.Content() == "" })
	}
	blood := exam.CoveredProcedure{}
	if drawn != nil {
		blood = *drawn
	}
	r.draw = form.NewSaid("blood draw", blood.For, drawn != nil, "the decision covers a blood draw: space marks it, or type its purpose", o)
	add(r.draw, nil)
}

// coverHint says what a ruling holds for where nothing is named.
func (r *rows) coverHint(string) string {
	if r.ruling.Chosen() == string(exam.GoAhead) {
		return "the product's name, as the veterinarian said it; empty for none"
	}
	return "if nothing is named here, it covers everything"
}

func (r *rows) addEnd(deps *nav.Deps, o entry.Options, add func(form.Widget, func() bool)) {
	r.until = form.NewDay("valid until", r.untilStands(deps.Now()), 40, false, func(string) error {
		_, err := r.ends(deps.Now())
		return err
	}, o).Hint(func(text string) string {
		if at, err := notation.ReadUntil(text, deps.Now()); err == nil && at != nil {
			return notation.Moment{Day: at.Format(notation.DayForm), At: at}.Words(deps.Now())
		}
		return fmt.Sprintf("18:00, tonight, 4 Mar 2026, 6h, 3d; empty: %.0f hours", exam.DecisionLasts.Hours())
	})
	add(r.until, nil)
	var back []string
	if r.stands.ReadBack {
		back = []string{"read back"}
	}
	r.back = form.NewMarks("read back", []exam.Choice{{Key: "read back", Words: "I read the words back and they were confirmed"}}, back, nil, o)
	r.back.Hint = "space marks"
	add(r.back, nil)
}

// untilStands is the end of the decision that is corrected, as text.
func (r *rows) untilStands(now time.Time) string {
	if r.stands.Until == nil {
		return ""
	}
	return r.stands.Until.In(now.Location()).Format(notation.DayForm + " 15:04")
}

// ends is the end that stands in its line; one that was not touched stays as it
// is, even where it is over.
func (r *rows) ends(now time.Time) (*time.Time, error) {
	if text := r.until.Content(); r.corrects() && text == r.untilStands(now) {
		return r.stands.Until, nil
	}
	return notation.ReadUntil(r.until.Content(), now)
}

func (r *rows) addRecheck(stands exam.RecheckLine, deps *nav.Deps, o entry.Options, add func(form.Widget, func() bool)) {
	r.on = form.NewDay("follow-up on", stands.ISO(), 40, false, func(text string) error {
		if text == "" || text == stands.ISO() {
			return nil
		}
		_, err := notation.ReadMoment(text, deps.Now())
		return err
	}, o).Hint(form.Moment(deps.Now))
	r.recheck = stands
	r.what = form.NewText("check what", stands.What, 0, form.Needed("type what is to be checked then"), o)
	add(r.on, nil)
	add(r.what, func() bool { return r.on.Content() == "" })
}

func rulings() []exam.Choice {
	hints := map[exam.Ruling]string{
		exam.GoAhead: "unlocks only what is named below",
		exam.Wait:    "locks what is named below, or everything, until a new decision",
		exam.Stop:    "locks what is named below, or everything, until a new decision",
	}
	out := exam.ChoicesOf(exam.Rulings())
	for i := range out {
		out[i].Hint = hints[exam.Ruling(out[i].Key)]
	}
	return out
}

func routes() []exam.Choice {
	return append([]exam.Choice{{Key: "", Words: anyRoute, Hint: "no route was named: any route of the label"}}, exam.ChoicesOf(exam.Routes())...)
}
