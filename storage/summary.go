package storage

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"slices"
	"time"

	"github.com/fxamacker/cbor/v2"

	"loosebox/exam"
)

// slotSize is what one visit takes in a summary.
const slotSize = 32

// slot is one visit in a summary: when it was opened, and which it is.
type slot struct {
	sec    int64
	nsec   uint32
	offset int32 // of the zone, seconds east of UTC
	visit  id
}

func slotOf(v id, at time.Time) slot {
	_, offset := at.Zone()
	return slot{at.Unix(), uint32(at.Nanosecond()), int32(offset), v}
}

func (s slot) at() time.Time {
	t := time.Unix(s.sec, int64(s.nsec)).UTC()
	if s.offset == 0 {
		return t
	}
	return t.In(time.FixedZone("", int(s.offset)))
}

// compare orders visits by time, oldest first.
func (s slot) compare(o slot) int {
	switch {
	case s.sec != o.sec:
		return int(min(max(s.sec-o.sec, -1), 1))
	case s.nsec != o.nsec:
		return int(int64(s.nsec) - int64(o.nsec))
	default:
		return bytes.Compare(s.visit[:], o.visit[:])
	}
}

// summary is what a list shows of a horse without opening its visits.
type summary struct {
	_      struct{} `cbor:",toarray"`
	Horse  cbor.RawMessage
	Open   []byte // visits not closed, 16 bytes each, in no order
	Visits []byte // every visit by time, oldest first, slotSize bytes each
	Struck []byte // visits that do not count, 16 bytes each, in no order
	Stamp  uint64 // one more with each change of the outline
	// Unsettled are visits in which somebody must look at something (exam.Visit.Unsettled),
	// 16 bytes each, in no order.
	Unsettled []byte
	// AtOnce are closed visits that were open at the same time as one that another laptop began,
	// where nobody looked at both yet (exam.AtOnce), 16 bytes each, newest first. They are of the outline.
	AtOnce []byte
}

func (s *summary) count() int { return len(s.Visits) / slotSize }

// slot returns the i-th visit, oldest first.
func (s *summary) slot(i int) slot {
	b := s.Visits[i*slotSize:]
	return slot{
		sec:    int64(binary.BigEndian.Uint64(b)),
		nsec:   binary.BigEndian.Uint32(b[8:]),
		offset: int32(binary.BigEndian.Uint32(b[12:])),
		visit:  id(b[16:slotSize]),
	}
}

func (s *summary) addVisit(v slot, open bool) {
	b := binary.BigEndian.AppendUint64(make([]byte, 0, slotSize), uint64(v.sec))
	b = binary.BigEndian.AppendUint32(b, v.nsec)
	b = binary.BigEndian.AppendUint32(b, uint32(v.offset))
	b = append(b, v.visit[:]...)
	i := s.count()
	for i > 0 && s.slot(i-1).compare(v) > 0 {
		i--
	}
	s.Visits = slices.Insert(s.Visits, i*slotSize, b...)
	if open {
		s.Open = append(s.Open, v.visit[:]...)
	}
}

func (s *summary) closeVisit(v id) { s.Open = withoutID(s.Open, v) }

// forgetVisit takes a visit out; false where it is not in.
func (s *summary) forgetVisit(v id) bool {
	for i := range s.count() {
		if s.slot(i).visit != v {
			continue
		}
		s.Visits = slices.Delete(s.Visits, i*slotSize, (i+1)*slotSize)
		s.Open, s.Struck, s.Unsettled = withoutID(s.Open, v), withoutID(s.Struck, v), withoutID(s.Unsettled, v)
		return true
	}
	return false
}

// withoutID leaves a visit out of a list of them.
func withoutID(list []byte, v id) []byte {
	for i := 0; i+16 <= len(list); i += 16 {
		if id(list[i:i+16]) == v {
			return slices.Delete(list, i, i+16)
		}
	}
	return list
}

func (s *summary) strikeVisit(v id) {
	if !s.struckSet()[v] {
		s.Struck = append(s.Struck, v[:]...)
	}
}

// settleVisit notes whether somebody must look at something in a visit; false where that
// is known.
func (s *summary) settleVisit(v id, unsettled bool) (changed bool) {
	was := setOf(s.Unsettled)[v]
	switch {
	case unsettled && !was:
		s.Unsettled = append(s.Unsettled, v[:]...)
	case !unsettled:
		s.Unsettled = withoutID(s.Unsettled, v)
	}
	return was != unsettled
}

func (s *summary) openSet() map[id]bool   { return setOf(s.Open) }
func (s *summary) struckSet() map[id]bool { return setOf(s.Struck) }

func setOf(list []byte) map[id]bool {
	set := make(map[id]bool, len(list)/16)
	for i := 0; i+16 <= len(list); i += 16 {
		set[id(list[i:i+16])] = true
	}
	return set
}

func (s *summary) horse() (exam.Horse, error) {
	var h exam.Horse
	if err := decoder().Unmarshal(s.Horse, &h); err != nil {
		return h, damaged("a horse cannot be read (%v)", err)
	}
	return h, nil
}

func (s *summary) setHorse(h exam.Horse) error {
	raw, err := encoder().Marshal(h)
	if err != nil {
		return fmt.Errorf("write horse: %w", err)
	}
	s.Horse = raw
	return nil
}

// readSummary reads a horse's summary; exam.ErrNotFound where there is no such horse.
func readSummary(tx txn, horse id) (*summary, error) {
	data, err := getRow(tx, bucketSummaries, horse[:])
	if err != nil {
		return nil, err
	}
	if data == nil {
		return nil, missingHorse(tx, horse)
	}
	return decodeSummary(data)
}

func decodeSummary(data []byte) (*summary, error) {
	s := new(summary)
	if err := decoder().Unmarshal(data, s); err != nil || len(s.Visits)%slotSize != 0 || len(s.Open)%16 != 0 || len(s.Struck)%16 != 0 {
		return nil, damaged("a summary cannot be read (%v)", err)
	}
	return s, nil
}

func (s *summary) write(tx txn, horse id) error {
	data, err := encoder().Marshal(s)
	if err != nil {
		return fmt.Errorf("write summary: %w", err)
	}
	return putRow(tx, bucketSummaries, horse[:], data)
}

// eachSummary calls fn for every horse and makes sure that none is missing.
func eachSummary(tx txn, fn func(horse id, s *summary) error) error {
	want, err := readTotals(tx)
	if err != nil {
		return err
	}
	var got totals
	err = eachRow(tx, bucketSummaries, func(key, data []byte) error {
		if len(key) != 16 {
			return damaged("a row of %s has a wrong key", bucketSummaries)
		}
		s, err := decodeSummary(data)
		if err != nil {
			return err
		}
		got.horses++
		got.visits += s.count()
		return fn(id(key), s)
	})
	if err == nil && got != want {
		err = damaged("%d horses with %d visits are listed, %d with %d were written", got.horses, got.visits, want.horses, want.visits)
	}
	return err
}

// missingHorse returns damage where a horse is missing only because a row cannot be read.
func missingHorse(tx txn, horse id) error {
	err := eachSummary(tx, func(other id, _ *summary) error {
		if other == horse {
			return damaged("horse %s is out of place", horse)
		}
		return nil
	})
	if err != nil {
		return err
	}
	return exam.NoSuch("no horse has the number %q in the record", horse)
}
