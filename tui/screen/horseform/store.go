package horseform

import (
	"errors"
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/tui/nav"
)

// loadedFormMsg is the horse to be changed, and whose the chips in the record are.
type loadedFormMsg struct {
	of    *screen
	horse exam.Horse
	chips map[string]string
	err   error
}

// savedHorseMsg is the horse as stored. Where somebody else stored a revision
// meanwhile, newest is that one and nothing was written.
type savedHorseMsg struct {
	of     *screen
	horse  exam.Horse
	newest *exam.Horse
	// settings are the machine's, where the person was written down for the first time.
	settings *exam.Settings
	err      error
}

func (s *screen) load() tea.Cmd {
	store, id := s.deps.Store, s.id
	return func() tea.Msg {
		m := loadedFormMsg{of: s, chips: map[string]string{}}
		list, err := store.Horses()
		if err != nil {
			m.err = fmt.Errorf("the horses in the record cannot be read; nothing was changed: %w", err)
			return m
		}
		for _, f := range list {
			if f.Horse.Chip != "" && f.Horse.ID != id {
				m.chips[f.Horse.Chip] = f.Horse.Name
			}
		}
		if id == "" {
			return m
		}
		if m.horse, err = store.Horse(id); err != nil {
			m.err = fmt.Errorf("this horse cannot be read; nothing was changed: %w", err)
		}
		return m
	}
}

// horse is what stands in the form. Every row has passed its check.
func (s *screen) horse() (exam.Horse, error) {
	h, r := s.before, &s.rows
	h.ID, h.Revision = s.id, s.before.Revision+1
	h.Name, h.Kind, h.Sex = r.name.Content(), exam.Animal(r.kind.Chosen()), exam.Sex(r.sex.Chosen())
	h.InFoal = s.inFoal()
	h.FoalDue = ""
	if h.InFoal {
		h.FoalDue = r.foalDue.Content()
	}
	var err error
	// A date that was not touched keeps the zone in which it was written.
	if text := r.birth.Content(); s.id == "" || text != birthText(s.before.Birth) {
		if h.Birth, err = exam.ReadBirth(text, ""); err != nil {
			return exam.Horse{}, err
		}
	}
	h.Birth.Basis = r.basis.Chosen()
	h.Dam = exam.DamVaccinated(r.dam.Chosen())
	h.Breed, h.Colour, h.Markings = r.breed.Content(), r.colour.Content(), r.markings.Content()
	if h.Chip, err = exam.ReadChip(r.chip.Content()); err != nil {
		return exam.Horse{}, err
	}
	if h.UELN, err = exam.ReadUELN(r.ueln.Content()); err != nil {
		return exam.Horse{}, err
	}
	h.Owner, h.Place = r.owner.Content(), r.place.Content()
	h.OwnerAddress, h.OwnerPhone = r.address.Content(), r.phone.Content()
	h.Cautions = append(r.cautions.Set(), parts(r.others.Content(), ",")...)
	h.Reactions = parts(r.reactions.Content(), ";")
	return h, exam.CheckSex(h, s.deps.Now())
}

func parts(text, between string) []string {
	var out []string
	for _, p := range strings.Split(text, between) {
		if p = strings.TrimSpace(p); p != "" {
			out = append(out, p)
		}
	}
	return out
}

func (s *screen) save() tea.Cmd {
	h, err := s.horse()
	if err != nil {
		s.saving = false
		return nav.Fail(err)
	}
	store, now, settings := s.deps.Store, s.deps.Now(), s.deps.Settings
	first := settings.Person == ""
	if first {
		settings.Person = s.rows.by.Content()
	}
	return func() tea.Msg {
		m := savedHorseMsg{of: s}
		m.horse, m.err = store.SaveHorse(h, settings.Person, now)
		// A name that is not kept is asked for again: no reason to fail.
		if m.err == nil && first && store.SaveSettings(settings) == nil {
			m.settings = &settings
		}
		if errors.Is(m.err, exam.ErrStale) && h.ID != "" {
			if newest, err := store.Horse(h.ID); err == nil {
				m.newest = &newest
			}
		}
		return m
	}
}

func (s *screen) saved(m savedHorseMsg) tea.Cmd {
	if m.of != s {
		return nil
	}
	s.saving = false
	switch {
	case m.newest != nil:
		s.before.Revision = m.newest.Revision
		s.said = "somebody else changed this horse meanwhile; what you typed still stands here: ctrl+s saves it as the newest, esc leaves theirs"
		return nil
	case m.err != nil:
		return nav.Fail(fmt.Errorf("this horse is NOT saved, what you typed still stands here: %w", m.err))
	}
	var named tea.Cmd
	if m.settings != nil {
		named = nav.Settled(*m.settings)
	}
	if s.id == "" {
		return tea.Sequence(named, nav.Replace(nav.Address{Screen: nav.Horse, Horse: m.horse.ID}))
	}
	return tea.Sequence(named, nav.Back())
}

func join(lines []string, height int) string {
	return strings.Join(lines[:min(len(lines), max(height, 0))], "\n")
}
