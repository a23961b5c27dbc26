package exam

import (
	"bytes"
	"encoding/json"
	"fmt"
	"time"

	jsonv2 "github.com/go-json-experiment/json"
)

// LineKind says what a line of the record is about.
type LineKind string

// The kinds of line.
const (
	LineHorse    LineKind = "horse"    // a revision of a horse, a HorseLine
	LineEntry    LineKind = "entry"    // of a visit, an Entry
	LineRound    LineKind = "round"    // of a day's round, a RoundLine
	LineSettings LineKind = "settings" // the settings as somebody left them, Settings
	LineJoin     LineKind = "join"     // that two horses are one, or are not, a Joining
	LinePractice LineKind = "practice" // a setting of the practice, a Setting
)

// LineKinds lists every kind.
func LineKinds() []LineKind {
	return []LineKind{LineHorse, LineEntry, LineRound, LineSettings, LineJoin, LinePractice}
}

// letter is the first byte of a stored line of the kind.
func (k LineKind) letter() byte { return k[0] }

// HorseLine is a revision of a horse as it is stored: what was said, by whom, when.
type HorseLine struct {
	Horse Horse     `json:"horse"`
	By    string    `json:"by"`
	At    time.Time `json:"at"`
	// Settles are the fields, by their names in JSON, of which the writer chose the value
	// although others stood beside it.
	Settles []string `json:"settles,omitempty" most:"64,what a line settles"`
	// Of are the horses that were one for the writer, where the line is about all of them.
	// It counts while they are one.
	Of []HorseID `json:"of,omitempty" text:"name" most:"64,a joining"`
	// Unseen are the numbers of earlier revisions that the writer's laptop did not hold; it
	// follows from the logs and is not stored.
	Unseen []int `json:"-" text:"-"`
}

// JoinLine is a stored line of its kind and its JSON, as SplitLine took it apart.
func JoinLine(kind LineKind, text []byte) []byte { return append([]byte{kind.letter()}, text...) }

// LineBody is a line as it is stored: a letter for its kind, then JSON.
func LineBody(kind LineKind, what any) ([]byte, error) {
	b := bytes.NewBuffer([]byte{kind.letter()})
	enc := json.NewEncoder(b)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(what); err != nil {
		return nil, fmt.Errorf("write a line of the kind %s: %w", kind, err)
	}
	return bytes.TrimSuffix(b.Bytes(), []byte("\n")), nil
}

// SplitLine takes a stored line apart: its kind and its JSON. The error wraps ErrDamaged.
func SplitLine(body []byte) (LineKind, []byte, error) {
	if len(body) > 0 {
		for _, k := range LineKinds() {
			if k.letter() == body[0] {
				return k, body[1:], nil
			}
		}
	}
	return "", nil, fmt.Errorf("a line is of no kind that this program knows: %w", ErrDamaged)
}

// ReadLine reads a stored line of a kind back into what it was written from. Every
// error wraps ErrDamaged.
func ReadLine(kind LineKind, body []byte, into any) error {
	got, text, err := SplitLine(body)
	if err != nil {
		return err
	}
	if got != kind {
		return fmt.Errorf("a line is of the kind %s where %s is expected: %w", got, kind, ErrDamaged)
	}
	if err := jsonv2.Unmarshal(text, into); err != nil {
		return fmt.Errorf("a line of the kind %s cannot be read (%s): %w", kind, err.Error(), ErrDamaged)
	}
	return nil
}
