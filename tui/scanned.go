package tui

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/gs1"
	"loosebox/exam/notation"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
)

// scannedMsg is a chip that was read, once it is known whose it is.
type scannedMsg struct {
	on   nav.Screen // that was shown when it was read
	scan nav.Scan
	err  error

	text, typed string
}

// scanned handles what a reader typed. A chip is looked up; of other text, what has not acted (typed) is pasted where text is
// typed; elsewhere it is only reported.
func (a *App) scanned(text, typed string) tea.Cmd {
	a.problem, a.done = "", ""
	scan, ok := nav.ReadScan(text)
	if !ok {
		return a.otherScan(text, typed)
	}
	top, store := a.top(), a.deps.Store
	return func() tea.Msg {
		m := scannedMsg{on: top.Screen, scan: scan, text: text, typed: typed}
		var here exam.HorseID
		if here, m.err = top.horse(); m.err == nil {
			m.err = m.scan.Find(store, here)
		}
		return m
	}
}

// horse is the horse that the screen is about; empty for none, and in a rehearsal, whose horse has no chip. An error where
// the visit cannot be read.
func (e stackEntry) horse() (exam.HorseID, error) {
	switch {
	case e.deps.Patient != nil:
		return "", nil
	case e.at.Visit == "":
		return e.at.Horse, nil
	}
	v, err := e.deps.Store.Visit(e.at.Visit)
	if err != nil {
		return "", fmt.Errorf("the visit cannot be read, so the chip is compared with nobody: %w", err)
	}
	return v.Horse.ID, nil
}

// otherScan handles what is not a chip. The code of a package goes only to a screen that takes one; other text is pasted
// where text is typed.
func (a *App) otherScan(text, typed string) tea.Cmd {
	seen := a.alarm == "" && !a.leaving && !a.size.Small()
	taker, takes := a.top().Screen.(nav.CodeTaker)
	if takes && seen {
		if cmd, took := taker.TakeCode(text); took {
			return cmd
		}
	}
	if gs1.Is(text) {
		a.problem = nav.CodeWords(text, a.deps.Now())
		return nil
	}
	if a.top().Typing() && seen && typed != "" {
		return a.top().Update(keys.Press{KeyMsg: tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(gs1.Plain(typed)), Paste: true}, At: a.deps.Now()})
	}
	a.problem = fmt.Sprintf("A reader sent %q: that is no chip. Nothing was answered.", notation.CleanLine(gs1.Plain(text), 40))
	return nil
}

// takeScan passes a chip to the screen that was on top when it was read. Where that does not take it, the person is told
// whose chip it is.
func (a *App) takeScan(m scannedMsg) tea.Cmd {
	top := a.top()
	switch same := top.Screen == m.on; {
	case m.err != nil:
		return nav.Fail(m.err)
	case m.scan.Older() && len(m.scan.Whose) == 0:
		return a.otherScan(m.text, m.typed)
	case same && a.alarm == "":
		if m.scan.Wrong() && stops(top.at.Screen) {
			a.alarm = m.scan.Words()
		}
		if taker, ok := top.Screen.(nav.ScanTaker); ok {
			if cmd, took := taker.TakeScan(m.scan); took {
				return cmd
			}
		}
	}
	if a.alarm == "" {
		a.problem = m.scan.Words()
	}
	return nil
}

// stops reports whether the chip of another horse locks the screen until it is acknowledged: before a needle.
func stops(name nav.Name) bool { return name == nav.Injection || name == nav.Draw }

// alarmLines are drawn in place of the screen after the chip of another horse was read.
func (a *App) alarmLines(size layout.Size) []string {
	t := a.deps.Theme
	lines := []string{""}
	for _, line := range layout.Wrap(a.alarm, size.W-2) {
		lines = append(lines, t.Alarm.Render(layout.Pad(" "+line, size.W)))
	}
	for _, line := range layout.Wrap("Give nothing and draw nothing. Nothing was answered. Compare chip, markings and order.", size.W-2) {
		lines = append(lines, " "+line)
	}
	return append(lines, "", " "+t.Strong.Render(keys.Understood().Shown()+": "+keys.Understood().Does))
}
