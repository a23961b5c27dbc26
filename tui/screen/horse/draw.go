package horse

import (
	"fmt"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/tui/layout"
	"loosebox/tui/theme"
)

func (s *screen) View(size layout.Size) string {
	if !s.Loaded {
		return "Reading the horse .."
	}
	t := s.Deps.Theme
	info := s.info(size.W)
	most := max(size.H-min(len(s.visits)+2, 6), 1) // the visits keep a few lines
	if len(info) > most {
		info = append(info[:most-1], t.Faint.Render(layout.Cut(".. there is more: e shows all", size.W)))
	}
	lines := append(info, s.visitLines(layout.Size{W: size.W, H: size.H - len(info)})...)
	return strings.Join(lines[:min(len(lines), max(size.H, 0))], "\n")
}

// info says who the horse is, what matters most first.
func (s *screen) info(width int) []string {
	t, h, now := s.Deps.Theme, s.horse, s.Deps.Now()
	var lines []string
	add := func(lead string, parts ...string) {
		if text := joined(" · ", parts...); text != "" {
			lines = append(lines, layout.Wrap(lead+text, width)...)
		}
	}
	caution := len(lines)
	add(theme.Caution+" ", h.Cautions...)
	for i := caution; i < len(lines); i++ {
		lines[i] = t.Caution.Render(layout.Pad(lines[i], width))
	}
	for _, text := range s.elsewhere {
		add("", text)
	}
	add("earlier reactions: ", h.Reactions...)
	add("follow-up: ", s.looks...)
	sex := h.Sex.String()
	if h.Sex == exam.SexUnknown {
		sex = "sex not known"
	}
	if h.InFoal {
		sex += ", in foal"
		if h.FoalDue != "" {
			sex += ", due " + notation.Shown(h.FoalDue)
		}
	}
	age, born := h.AgeWords(now), ""
	switch b := h.Birth; {
	case !b.At.IsZero():
		born = "born " + b.Show()
	case b.Basis != "" && (b.Precision == exam.BornFoal || b.Precision == exam.BornAdult): // the age says that there is no birth date
		age += " (" + b.Basis + ")"
	}
	add("", h.Kind.String(), sex, age, born)
	class := exam.ClassOf(h, now)
	add("ranges used: ", fmt.Sprintf("%s (%s, %s)", class.Name, h.Kind, class.Why))
	if h.Dam != exam.DamNotKnown && class.Young {
		add("", "its mare: "+h.Dam.String())
	}
	add("", h.Breed, h.Colour, h.Markings)
	chip, ueln := h.Chip, h.UELN
	if chip != "" {
		chip = "chip " + chip
	}
	if ueln != "" {
		ueln = "UELN " + ueln
	}
	add("", chip, ueln)
	owner := h.Owner
	if owner != "" {
		owner = "owner " + owner
	}
	place := h.Place
	if place != "" {
		place = "location " + place
	}
	add("", owner, h.OwnerAddress, h.OwnerPhone, place)
	if n := len(h.Joined); n > 0 {
		add("", fmt.Sprintf("entered %d times and joined: ctrl+o shows the records, and parts them", n))
	}
	add("past doses: ", s.doses)
	return append(lines, "")
}

// joined puts cleaned parts that are not empty behind each other.
func joined(between string, parts ...string) string {
	var kept []string
	for _, p := range parts {
		if p = notation.CleanLine(p, 0); p != "" {
			kept = append(kept, p)
		}
	}
	return strings.Join(kept, between)
}

func (s *screen) visitLines(size layout.Size) []string {
	t := s.Deps.Theme
	if len(s.visits) == 0 {
		return []string{layout.Cut("No visit yet: b begins the first exam.", size.W)}
	}
	struck := 0
	for _, v := range s.visits {
		if v.struck {
			struck++
		}
	}
	heading := fmt.Sprintf("visits, newest first (%d)", len(s.visits))
	if struck > 0 {
		heading = fmt.Sprintf("visits, newest first (%d, and %d voided)", len(s.visits)-struck, struck)
	}
	lines := []string{t.Heading.Render(layout.Pad(heading, size.W))}
	room := max(size.H-len(lines), 0)
	return append(lines, s.cursor.Draw(len(s.visits), room, func(i int, here bool) string {
		return s.visitLine(s.visits[i], here, size.W)
	})...)
}

func (s *screen) visitLine(p past, here bool, width int) string {
	t := s.Deps.Theme
	date, by, missed := 12, 8, 9
	if width >= 76 {
		date, by = 17, 14
	}
	if width >= 100 && strings.Contains(p.missed, " of ") {
		missed = 17
		p.missed += " answered"
	}
	when := p.dates.Fit(p.at, date)
	const level = 14
	routine := width - 2 - date - by - level - missed - 4
	head := layout.Pad(when, date) + " " + layout.Pad(p.routine, routine) + " " + layout.Pad(p.by, by) + " "
	tail := " " + layout.Pad(p.missed, missed)
	if here {
		return t.Cursor.Render(layout.Pad(t.Sign.Cursor+" "+head+layout.Pad(p.standing, level)+tail, width))
	}
	return layout.Cut("  "+head+t.Level(p.level).Render(layout.Pad(p.standing, level))+tail, width)
}
