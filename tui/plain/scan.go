package plain

import (
	"errors"
	"strings"

	"loosebox/exam"
	"loosebox/exam/gs1"
	"loosebox/exam/label"
	"loosebox/exam/procedure/order"
	"loosebox/tui/nav"
)

// understood is typed after the chip of another horse was read before a needle.
const understood = "understood"

// scanned takes a line that is a chip number: a reader types at any prompt. It says
// whose the chip is and puts the question again; false where the line is an answer. Before
// a needle another horse's stops until that is understood.
func (s *Session) scanned(text string) bool {
	question := s.asked
	scan, ok := s.chip(text)
	if !ok {
		return false
	}
	s.line("%s", scan.Words())
	if s.needle && scan.Wrong() {
		s.wrong = true
		for text, ok := "", true; ok && s.failed == nil && !strings.EqualFold(text, understood); {
			s.line(compareAll, understood)
			text, ok = s.readLine()
		}
	}
	s.line("%s", question)
	return true
}

// compareAll is said until it is understood.
const compareAll = "Give nothing and draw nothing. Compare chip, markings and order. Type %s to go on."

// chip looks up whose the chip of a line is; false where the line is none.
func (s *Session) chip(text string) (nav.Scan, bool) {
	scan, ok := nav.ReadScan(text)
	if !ok {
		return scan, false
	}
	here := s.here
	if s.Horse != nil { // a simulated one
		here = ""
	}
	if err := scan.Find(s.Deps.Store, here); err != nil {
		s.line("%s.", err)
	}
	return scan, !scan.Older() || len(scan.Whose) > 0
}

// compare sets a chip that was read at "right horse" against the horse of the
// visit: the right one answers the point, another's stops until that is understood.
func (w *work) compare(p order.AnsweredPoint, text string) (c exam.Checked, answered, chip bool, err error) {
	scan, ok := w.chip(text)
	if !ok {
		return exam.Checked{}, false, false, nil
	}
	w.line("%s", scan.Words())
	if scan.Right() {
		return exam.Checked{Key: p.Key, OK: true, Words: exam.ChipRead}, true, true, nil
	}
	for scan.Wrong() {
		text, err := w.ask(compareAll, understood)
		if err != nil || strings.EqualFold(text, understood) {
			return exam.Checked{}, false, true, err
		}
	}
	return exam.Checked{}, false, true, nil
}

// errCode says that the code of a package was scanned into a form.
var errCode = errors.New("the code of a package")

// isCode says that a line is the code of a package; at the lot number also one that
// could be something else, which is then asked.
func (w *work) isCode(f order.Field, text string) bool {
	if gs1.Is(text) {
		return true
	}
	_, err := gs1.Read(text, w.Deps.Now())
	return err == nil && f.Key == order.Lot
}

// known finds what the practice wrote down with an item number before; where the record
// cannot be read that is said, and the words are typed.
func (w *work) known(item string) (label.SavedProduct, bool) {
	visits, err := w.Deps.Store.Recent(label.Visits)
	if err != nil {
		w.line("The earlier use of this item number cannot be read: %s.", err)
	}
	return label.Last(item, visits)
}
