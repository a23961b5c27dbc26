package form

import (
	"loosebox/tui/keys"
)

// Light reports whether the row under the cursor takes the press as text, or as the number of a choice.
func (f *Form) Light(p keys.Press) bool {
	row, ok := f.row()
	return ok && row.Light(p)
}

// Keep saves the content of the row under the cursor and returns the function that restores it. Presses that turn out to
// come from a reader are undone with it.
func (f *Form) Keep() func() {
	if row, ok := f.row(); ok {
		return row.Keep()
	}
	return func() {}
}

func (f *Form) row() (keys.Light, bool) {
	if f.at >= len(f.rows) {
		return nil, false
	}
	row, ok := f.rows[f.at].row.(keys.Light)
	return row, ok
}

// ScanChip writes a chip that was read into the row under the cursor; false where that row is not for a chip number.
func (f *Form) ScanChip(chip string) bool {
	if f.at >= len(f.rows) {
		return false
	}
	row, ok := f.rows[f.at].row.(*Text)
	if ok = ok && row.chip; ok {
		row.Put(chip)
	}
	return ok
}

// Chip marks the row as one for a chip number, and returns it.
func (r *Text) Chip() *Text {
	r.chip = true
	return r
}

// Light of a text is every character.
func (r *Text) Light(p keys.Press) bool { return r.field.Light(p) }

// Keep keeps the text.
func (r *Text) Keep() func() { return r.field.Keep() }

// Light of a choice is its number.
func (r *OneOf) Light(p keys.Press) bool { return keys.Digit().Is(p) }

// Keep keeps what is chosen, and whether a person chose it.
func (r *OneOf) Keep() func() {
	back, propose := r.field.Keep(), r.propose
	return func() {
		back()
		r.propose = propose
	}
}

// Light of marks is the number of one; only space sets it.
func (r *Several) Light(p keys.Press) bool { return keys.Digit().Is(p) }

// Keep keeps the cursor.
func (r *Several) Keep() func() {
	cursor, back := r.cursor, func() {}
	if field, ok := r.field.(keys.Light); ok {
		back = field.Keep()
	}
	return func() {
		r.cursor = cursor
		back()
	}
}

// Light of counts is the number of one; only space counts.
func (r *Counts) Light(p keys.Press) bool { return keys.Digit().Is(p) }

// Keep keeps the cursor.
func (r *Counts) Keep() func() {
	cursor, said := r.cursor, r.said
	return func() { r.cursor, r.said = cursor, said }
}
