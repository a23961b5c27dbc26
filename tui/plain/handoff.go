package plain

import (
	"strings"

	"loosebox/exam"
	"loosebox/exam/handoff"
	"loosebox/exam/notation"
)

// pageWide is the width of a page of text.
const pageWide = 80

// HandOff writes the page to read out, then asks to whom it was read and what was asked, and stores the hand-off. The number
// is not used. ErrLeft where the input ends first.
func (s *Session) HandOff(id exam.VisitID, _ int) error {
	w, err := s.work(id)
	if err != nil {
		return err
	}
	w.page = true
	page := w.Deps.Page(w.at.Judged, "", w.by, w.Deps.Settings, w.Deps.Now())
	for _, l := range strings.Split(strings.TrimRight(page.Text(pageWide), "\n"), "\n") {
		w.line("%s", l)
	}
	return w.run(func() (bool, error) { return true, w.handed(page) })
}

// handed asks how the page was read, and writes it down.
func (w *work) handed(page handoff.Page) error {
	l, before := exam.HandOffLine{}, ""
	if n := len(w.at.Visit.HandOffs); n > 0 {
		before = w.at.Visit.HandOffs[n-1].To
	}
	var err error
	if l.To, err = w.words("To whom was it read?", before); err != nil {
		return err
	}
	means := []exam.Means{exam.Here, exam.ByTelephone}
	how, err := w.choose("How?", texts(means))
	if err != nil {
		return err
	}
	l.How = means[how]
	if l.Asked, err = w.words("What was asked?", page.Asks()); err != nil {
		return err
	}
	if l.ReadBack, err = w.yes("Did they repeat it correctly?"); err != nil {
		return err
	}
	e := exam.Entry{Kind: exam.EntryHandedOff, HandOff: &l}
	if e.Reason, err = w.late(); err != nil {
		return err
	}
	if err := w.write(e); err != nil {
		return err
	}
	w.line("Saved: handed off to %s, %s. The veterinarian's decision comes next.", notation.CleanLine(l.To, 0), l.How)
	return nil
}

// words asks until there are some; enter alone takes what is offered.
func (w *work) words(question, offered string) (string, error) {
	if offered != "" {
		question += " Enter alone: " + strings.TrimSuffix(offered, ".") + "."
	}
	for {
		text, err := w.ask("%s", question)
		if err != nil || text != "" {
			return text, err
		}
		if offered != "" {
			return offered, nil
		}
		w.line("A few words are needed.")
	}
}

// yes asks a question of yes and no.
func (w *work) yes(question string) (bool, error) {
	i, err := w.choose(question, []string{"yes", "no"})
	return i == 0, err
}

// late asks of a visit that is closed why something is written now.
func (w *work) late() (string, error) {
	if !w.at.Visit.Closed() {
		return "", nil
	}
	return w.words("The visit is closed: why is this added now?", "")
}
