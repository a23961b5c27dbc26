package horseform

import (
	"errors"
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
)

// stored is the horse to be changed, whose the chips in the record are, and who the other horses are by name.
type stored struct {
	horse exam.Horse
	chips map[string]string
	named map[string]string
}

func (s *screen) load() tea.Cmd {
	store, id, now := s.Deps.Store, s.id, s.Deps.Now()
	return base.Read(s, func() (stored, error) {
		r := stored{chips: map[string]string{}, named: map[string]string{}}
		list, err := store.Horses()
		if err != nil {
			return r, base.Unread("the horses in the record", err)
		}
		for _, f := range list {
			if !f.Horse.Is(id) {
				r.named[folded(f.Horse.Name)] = who(f.Horse, now)
			}
			for _, h := range f.Horse.Records() {
				if h.Chip != "" && !f.Horse.Is(id) {
					r.chips[h.Chip] = h.Name
				}
			}
		}
		if id != "" {
			r.horse, err = store.Horse(id)
		}
		return r, base.Unread("this horse", err)
	}, s.take)
}

func (s *screen) take(r stored) tea.Cmd {
	s.chips, s.named = r.chips, r.named
	if s.Form == nil {
		s.before = r.horse
		s.build(r.horse)
	}
	return nil
}

// horse is what stands in the form. Every row has passed its check.
func (s *screen) horse() (exam.Horse, error) {
	h, r := s.before, &s.rows
	h.ID, h.Revision = s.id, s.before.Revision+1
	h.Name, h.Kind, h.Sex = r.name.Content(), exam.AnimalKind(r.kind.Chosen()), exam.Sex(r.sex.Chosen())
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
	return h, exam.CheckSex(h, s.Deps.Now())
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

// saved is the horse as stored. Where somebody else stored a revision meanwhile,
// newest is that one and nothing was written.
type saved struct {
	horse  exam.Horse
	newest *exam.Horse
	// settings are the machine's, where the person was written down for the first time.
	settings *exam.Settings
}

func (s *screen) store() tea.Cmd {
	if row, doubt := s.doubts(); doubt != "" && !s.Asked(doubt+": check it, or press ctrl+s again to save it so") {
		s.Form.Go(row)
		return nil
	}
	s.Unsay()
	if s.id != "" && !s.Form.Changed() && len(s.before.Differ) == 0 { // nothing changed: no new revision
		return tea.Sequence(nav.Back(), nav.Say("Nothing was changed, and nothing was saved."))
	}
	h, err := s.horse()
	if err != nil {
		return nav.Fail(err)
	}
	store, now, settings := s.Deps.Store, s.Deps.Now(), s.Deps.Settings
	first := settings.Person == ""
	if first {
		settings.Person = s.rows.by.Content()
	}
	return base.Write(s, func() (saved, error) {
		var r saved
		var err error
		r.horse, err = store.SaveHorse(h, settings.Person, now)
		// A name that is not kept is asked for again: no reason to fail.
		if err == nil && first && store.SaveSettings(settings) == nil {
			r.settings = &settings
		}
		if errors.Is(err, exam.ErrStale) && h.ID != "" {
			if newest, err := store.Horse(h.ID); err == nil {
				r.newest = &newest
				return r, nil
			}
		}
		if err != nil {
			err = fmt.Errorf("this horse is NOT saved; what you typed is still here: %w", err)
		}
		return r, err
	}, s.onward)
}

// onward leads to the horse, or back to it.
func (s *screen) onward(r saved) tea.Cmd {
	if r.newest != nil {
		s.before.Revision = r.newest.Revision
		s.Said = "somebody else changed this horse; ctrl+s saves your version, esc keeps theirs"
		return nil
	}
	var named tea.Cmd
	if r.settings != nil {
		named = nav.Settled(*r.settings)
	}
	if s.id == "" {
		return tea.Sequence(named, nav.Replace(nav.Address{Screen: nav.Horse, Horse: r.horse.ID}))
	}
	return tea.Sequence(named, nav.Back())
}
