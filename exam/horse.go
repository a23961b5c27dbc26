package exam

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"loosebox/exam/notation"
)

// AnimalKind is the kind of animal.
type AnimalKind string

// The kinds of animal that the exam knows.
const (
	AnimalHorse     AnimalKind = "horse"
	AnimalPony      AnimalKind = "pony"
	AnimalMiniature AnimalKind = "miniature"
	AnimalDraft     AnimalKind = "draft"
	AnimalDonkey    AnimalKind = "donkey"
	AnimalMule      AnimalKind = "mule"
)

// Animals lists every kind.
func Animals() []AnimalKind {
	return []AnimalKind{AnimalHorse, AnimalPony, AnimalMiniature, AnimalDraft, AnimalDonkey, AnimalMule}
}

// BirthPrecision says how well a birth date is known.
type BirthPrecision string

// The precisions of a birth date.
const (
	BornUnknown   BirthPrecision = "not known"
	BornMinute    BirthPrecision = "minute"
	BornDay       BirthPrecision = "day"
	BornMonth     BirthPrecision = "month"
	BornYear      BirthPrecision = "year"
	BornEstimated BirthPrecision = "estimated"
	BornFoal      BirthPrecision = "under six months" // nothing more is known
	BornAdult     BirthPrecision = "adult"            // nothing more is known
)

// Birth is a birth date with how well it is known and what it rests on.
type Birth struct {
	At        time.Time      `json:"at"` // start of the day, month or year where no more is known
	Precision BirthPrecision `json:"precision" text:"name"`
	Basis     string         `json:"basis,omitempty"` // papers, passport, teeth, owner
}

// DamVaccinated says whether the mare of a foal was vaccinated in time before
// the birth.
type DamVaccinated string

// What is known of it.
const (
	DamNotKnown     DamVaccinated = ""
	DamVaccine      DamVaccinated = "vaccinated"
	DamUnvaccinated DamVaccinated = "not vaccinated"
)

// Horse is one animal. Revisions are kept; the newest counts.
type Horse struct {
	ID       HorseID    `json:"id" text:"name"`
	Revision int        `json:"revision"`
	Name     string     `json:"name"`
	Kind     AnimalKind `json:"kind" text:"name"`
	Sex      Sex        `json:"sex,omitempty" text:"name"`
	InFoal   bool       `json:"in_foal,omitempty"`
	// FoalDue is the day on which the foal is expected, 2026-03-04; empty where
	// it is not known.
	FoalDue string `json:"foal_due,omitempty"`
	// Dam says of a foal whether its mare was vaccinated.
	Dam      DamVaccinated `json:"dam,omitempty" text:"name"`
	Birth    Birth         `json:"birth"`
	Breed    string        `json:"breed,omitempty"`
	Colour   string        `json:"colour,omitempty"`
	Markings string        `json:"markings,omitempty"`
	Chip     string        `json:"chip,omitempty"` // 15 digits, ISO 11784
	UELN     string        `json:"ueln,omitempty"`
	Owner    string        `json:"owner,omitempty"`
	// OwnerAddress and OwnerPhone are asked for by records laws and certificates.
	OwnerAddress string `json:"owner_address,omitempty"`
	OwnerPhone   string `json:"owner_phone,omitempty"`
	Place        string `json:"place,omitempty"`
	// Cautions are handling cautions, shown on every screen of the exam.
	Cautions []string `json:"cautions,omitempty" most:"100,a list of cautions or reactions"`
	// Reactions are reactions noted before: to a product, a needle, a handling.
	Reactions []string `json:"reactions,omitempty" most:"100,a list of cautions or reactions"`
	// Differ is what was written on laptops that did not know of each other. It follows
	// from the revisions. Settles are the fields of them of which whoever saves the horse
	// chose the value.
	Differ  []HorseDispute `json:"differ,omitempty"`
	Settles []string       `json:"-" text:"name"`
	// Joined are the records that were joined, each by itself, the smallest identity
	// first; none of a horse that was entered once. It follows from the record.
	Joined []Horse `json:"joined,omitempty"`
}

// Matches says whether a text occurs in what a person looks a horse up by:
// name, owner, place, breed, chip or UELN, of any record that was joined. An empty text
// matches.
func (h Horse) Matches(text string) bool {
	text = strings.ToLower(strings.TrimSpace(text))
	return text == "" || strings.Contains(h.Searched(), text)
}

// Searched is what a person looks a horse up by, in small letters, a line for each.
func (h Horse) Searched() string {
	text := strings.Join([]string{h.Name, h.Owner, h.Place, h.Breed, h.Chip, h.UELN}, "\n")
	for _, r := range h.Joined {
		text += "\n" + r.Searched()
	}
	return strings.ToLower(text)
}

// HasChip says that a chip is the horse's, in whichever of its records.
func (h Horse) HasChip(chip string) bool {
	own, err := ReadChip(h.Chip)
	return chip != "" && (h.Chip == chip || err == nil && own == chip) || slices.ContainsFunc(h.Joined, func(r Horse) bool { return r.HasChip(chip) })
}

// OneHorse finds the horse that a person means by a text: its name or chip or, where no horse has
// that, a text that only one of them is found by (see Searched). Otherwise the error is a
// *notation.Refusal that says what to type; none is its sentence where no horse matches.
func OneHorse(horses []Horse, text, none string) (Horse, error) {
	want := strings.ToLower(notation.CleanLine(text, 0))
	var exact, near []Horse
	for _, h := range horses {
		switch {
		case h.Called(want) || h.HasChip(strings.ToUpper(want)):
			exact = append(exact, h)
		case h.Matches(want):
			near = append(near, h)
		}
	}
	switch {
	case len(exact) == 1:
		return exact[0], nil
	case len(exact) > 1:
		return Horse{}, &notation.Refusal{Why: fmt.Sprintf("%d horses have this name: type the chip, or the owner", len(exact))}
	case len(near) == 1:
		return near[0], nil
	case len(near) > 1:
		return Horse{}, &notation.Refusal{Why: fmt.Sprintf("%d horses match: type the whole name", len(near))}
	}
	return Horse{}, &notation.Refusal{Why: none}
}

// Called says that a name is the horse's, in whichever of its records; large and small
// letters are the same.
func (h Horse) Called(name string) bool {
	return strings.EqualFold(h.Name, name) || slices.ContainsFunc(h.Joined, func(r Horse) bool { return r.Called(name) })
}
