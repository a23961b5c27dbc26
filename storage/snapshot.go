package storage

import (
	"fmt"
	"time"

	"go.etcd.io/bbolt"

	"loosebox/exam"
)

// snapshot is a visit as it is stored: its findings are most of it and are
// written with numbers in place of names, and without what is empty, which
// makes a comparison quick to read. A number is never used for another field; a
// new field takes the next, and an older snapshot then reads as empty there. A
// test fills every field of exam.Visit and fails where one is left out here.
type snapshot struct {
	Visit    exam.Visit    `cbor:"1,keyasint"` // without findings
	Findings []snapFinding `cbor:"2,keyasint"`
}

type snapFinding struct {
	Step    exam.StepID `cbor:"1,keyasint"`
	Site    exam.Site   `cbor:"2,keyasint,omitempty"`
	Value   snapValue   `cbor:"3,keyasint,omitempty"`
	NotDone string      `cbor:"4,keyasint,omitempty"`
	Note    string      `cbor:"5,keyasint,omitempty"`
	Sec     int64       `cbor:"6,keyasint"`
	Nsec    int64       `cbor:"7,keyasint,omitempty"`
	Offset  int         `cbor:"8,keyasint,omitempty"` // seconds east of UTC
	By      string      `cbor:"9,keyasint"`
	Seq     int         `cbor:"10,keyasint"`
	Before  []int       `cbor:"11,keyasint,omitempty"`
}

type snapValue struct {
	Kind    exam.Kind     `cbor:"1,keyasint,omitempty"`
	Number  *snapQuantity `cbor:"2,keyasint,omitempty"`
	Typed   string        `cbor:"3,keyasint,omitempty"`
	Words   []string      `cbor:"4,keyasint,omitempty"`
	Count   *exam.Count   `cbor:"5,keyasint,omitempty"`
	TrialsS []float64     `cbor:"6,keyasint,omitempty"`
	Weight  *exam.Weight  `cbor:"7,keyasint,omitempty"`
	Text    string        `cbor:"8,keyasint,omitempty"`
	Usual   bool          `cbor:"9,keyasint,omitempty"`
	Bound   exam.Bound    `cbor:"10,keyasint,omitempty"`
}

type snapQuantity struct {
	Value float64   `cbor:"1,keyasint"`
	Unit  exam.Unit `cbor:"2,keyasint,omitempty"`
}

func snapshotOf(v exam.Visit) snapshot {
	s := snapshot{Visit: v, Findings: make([]snapFinding, len(v.Findings))}
	s.Visit.Findings = nil
	for i, f := range v.Findings {
		_, offset := f.At.Zone()
		s.Findings[i] = snapFinding{
			Step: f.Step, Site: f.Site, Value: snapValueOf(f.Value), NotDone: f.NotDone, Note: f.Note,
			Sec: f.At.Unix(), Nsec: int64(f.At.Nanosecond()), Offset: offset, By: f.By, Seq: f.Seq, Before: f.Before,
		}
	}
	return s
}

func snapValueOf(v exam.Value) snapValue {
	s := snapValue{
		Kind: v.Kind, Typed: v.Typed, Words: v.Words, Count: v.Count, TrialsS: v.TrialsS, Weight: v.Weight, Text: v.Text, Usual: v.Usual, Bound: v.Bound,
	}
	if v.Number != nil {
		s.Number = &snapQuantity{Value: v.Number.Value, Unit: v.Number.Unit}
	}
	return s
}

func (s snapshot) visit() exam.Visit {
	v := s.Visit
	if len(s.Findings) == 0 {
		return v
	}
	v.Findings = make([]exam.Finding, len(s.Findings))
	var zones zoneMaker
	for i, f := range s.Findings {
		v.Findings[i] = exam.Finding{
			Step: f.Step, Site: f.Site, Value: f.Value.value(), NotDone: f.NotDone, Note: f.Note,
			At: zones.at(f.Sec, f.Nsec, f.Offset), By: f.By, Seq: f.Seq, Before: f.Before,
		}
	}
	return v
}

func (s snapValue) value() exam.Value {
	v := exam.Value{
		Kind: s.Kind, Typed: s.Typed, Words: s.Words, Count: s.Count, TrialsS: s.TrialsS, Weight: s.Weight, Text: s.Text, Usual: s.Usual, Bound: s.Bound,
	}
	if s.Number != nil {
		v.Number = &exam.Quantity{Value: s.Number.Value, Unit: s.Number.Unit}
	}
	return v
}

// zoneMaker makes times like those that time.Parse reads of an entry: in UTC,
// in local time where its offset fits, else in a zone without a name.
type zoneMaker struct{ last *time.Location }

func (z *zoneMaker) at(sec, nsec int64, offset int) time.Time {
	t := time.Unix(sec, nsec)
	if offset == 0 {
		return t.UTC()
	}
	if _, local := t.Zone(); local == offset {
		return t
	}
	if z.last != nil {
		if _, last := t.In(z.last).Zone(); last == offset {
			return t.In(z.last)
		}
	}
	z.last = time.FixedZone("", offset)
	return t.In(z.last)
}

// readSnapshot reads the stored fold of a closed visit.
func readSnapshot(tx *bbolt.Tx, visit id) (exam.Visit, error) {
	data, err := getRow(tx, bucketSnapshots, visit[:])
	if err != nil {
		return exam.Visit{}, err
	}
	if data == nil {
		return exam.Visit{}, damaged("the snapshot of visit %s is missing", visit)
	}
	v, err := decodeSnapshot(data)
	if err != nil {
		return v, damaged("the snapshot of visit %s cannot be read (%v)", visit, err)
	}
	return v, nil
}

func encodeSnapshot(v exam.Visit) ([]byte, error) {
	data, err := encoder().Marshal(snapshotOf(v))
	if err != nil {
		return nil, fmt.Errorf("write snapshot: %w", err)
	}
	return data, nil
}

func decodeSnapshot(data []byte) (exam.Visit, error) {
	var s snapshot
	err := decoder().Unmarshal(data, &s)
	return s.visit(), err
}

func writeSnapshot(tx *bbolt.Tx, visit id, v exam.Visit) error {
	data, err := encodeSnapshot(v)
	if err != nil {
		return err
	}
	return putRow(tx, bucketSnapshots, visit[:], data)
}
