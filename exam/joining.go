package exam

import (
	"slices"
	"time"

	"loosebox/exam/notation"
)

// Joining is a line by which somebody says that two horses of the record are one, or that
// one of them is not the others.
type Joining struct {
	// Horses are one horse; where Apart is true the first is none of the others.
	Horses []HorseID `json:"horses" text:"name" most:"64,a joining"`
	Apart  bool      `json:"apart,omitempty"`
	// Undoes are the lines that joined the first horse to another, as far as the writer
	// held them. A line that the writer did not hold stays.
	Undoes []Hash    `json:"undoes,omitempty" text:"name" most:"256,a parting"`
	By     string    `json:"by"`
	At     time.Time `json:"at"`
	Why    string    `json:"why,omitempty"`
	// Line is the identity of the line; it follows from the log and is not stored.
	Line Hash `json:"-" text:"-"`
	// Unseen are the lines before it, in the order of the record, that its writer did not hold;
	// it follows from the logs and is not stored.
	Unseen []Hash `json:"-" text:"-"`
}

// Check says what is missing of a joining; the error is a *notation.Refusal.
func (j Joining) Check() error {
	switch {
	case len(j.Horses) < 2 || j.Horses[0] == j.Horses[1] || slices.Contains(j.Horses, ""):
		return &notation.Refusal{Why: "Two different horses are joined or parted. Nothing was saved."}
	case j.By == "":
		return &notation.Refusal{Why: "Say who joins or parts horses. Nothing was saved."}
	case j.At.IsZero():
		return &notation.Refusal{Why: "A joining needs its time. Nothing was saved."}
	}
	return nil
}

// Joinings are the lines about horses that are one, in the order of the record; only InVain goes by it.
type Joinings []Joining

// Standing are the lines that join and that no other line undoes.
func (all Joinings) Standing() Joinings {
	undone := map[Hash]bool{}
	for _, j := range all {
		if j.Apart {
			for _, h := range j.Undoes {
				undone[h] = true
			}
		}
	}
	return slices.DeleteFunc(slices.Clone(all), func(j Joining) bool { return j.Apart || undone[j.Line] })
}

// Groups are the horses that are one with others: each of them with all of its group, the
// smallest identity first. That one leads the group. The order of the lines and of the
// horses in them changes nothing.
func (all Joinings) Groups() map[HorseID][]HorseID {
	above := map[HorseID]HorseID{}
	var top func(HorseID) HorseID
	top = func(h HorseID) HorseID {
		up, ok := above[h]
		if !ok || up == h {
			above[h] = h
			return h
		}
		above[h] = top(up)
		return above[h]
	}
	for _, j := range all.Standing() {
		for _, h := range j.Horses[1:] {
			if a, b := top(j.Horses[0]), top(h); a != b {
				above[max(a, b)] = min(a, b)
			}
		}
	}
	under := map[HorseID][]HorseID{}
	for h := range above {
		under[top(h)] = append(under[top(h)], h)
	}
	out := map[HorseID][]HorseID{}
	for _, group := range under {
		slices.Sort(group)
		for _, h := range group {
			out[h] = group
		}
	}
	return out
}

// Undoing are the identities of the standing lines that join a horse to others.
func (all Joinings) Undoing(h HorseID) []Hash {
	var out []Hash
	for _, j := range all.Standing() {
		if slices.Contains(j.Horses, h) {
			out = append(out, j.Line)
		}
	}
	slices.Sort(out)
	return out
}

// Told says that somebody said of two horses that they are not one.
func (all Joinings) Told(one, other HorseID) bool {
	return slices.ContainsFunc(all, func(j Joining) bool {
		return j.Apart && (j.Horses[0] == one && slices.Contains(j.Horses[1:], other) ||
			j.Horses[0] == other && slices.Contains(j.Horses[1:], one))
	})
}

// Dispute is a line which says that horses are two while others keep them one, all of them
// written by people who did not hold the other.
type Dispute struct {
	Apart   Joining
	Joins   Joinings  // that stand, of the same horse
	Records []HorseID // that are one and that Apart names, the one that it parts first
}

// InVain lists the lines which say that horses are two that are one all the same. One by which
// somebody joined them who held such a line has settled it.
func (all Joinings) InVain() []Dispute {
	var out []Dispute
	standing, groups := all.Standing(), all.Groups()
	for i, p := range all {
		group := groups[p.Horses[0]]
		if !p.Apart || len(group) == 0 {
			continue
		}
		knew := slices.DeleteFunc(slices.Clone(all[i+1:]), func(j Joining) bool { return j.Apart || slices.Contains(j.Unseen, p.Line) })
		settled := append(knew, all.partings()...).Groups()[p.Horses[0]]
		d := Dispute{Apart: p, Records: []HorseID{p.Horses[0]}}
		for _, h := range p.Horses[1:] {
			if slices.Contains(group, h) && !slices.Contains(settled, h) {
				d.Records = append(d.Records, h)
			}
		}
		if len(d.Records) == 1 {
			continue
		}
		for _, j := range standing {
			if slices.Contains(group, j.Horses[0]) {
				d.Joins = append(d.Joins, j)
			}
		}
		out = append(out, d)
	}
	return out
}

// partings are the lines that part; what they undo stands no more.
func (all Joinings) partings() Joinings {
	return slices.DeleteFunc(slices.Clone(all), func(j Joining) bool { return !j.Apart })
}

// DisputesOf are those of InVain about a horse.
func (all Joinings) DisputesOf(h Horse) []Dispute {
	return slices.DeleteFunc(all.InVain(), func(d Dispute) bool { return !slices.ContainsFunc(d.Records, h.Is) })
}

// Records are the records that a horse is made of: itself alone, or all that were joined.
func (h Horse) Records() []Horse {
	if len(h.Joined) == 0 {
		return []Horse{h}
	}
	return h.Joined
}

// Is says that an identity is that of the horse or of a record that was joined to it.
func (h Horse) Is(id HorseID) bool {
	return slices.ContainsFunc(h.Records(), func(r Horse) bool { return r.ID == id })
}
