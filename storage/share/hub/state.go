package hub

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strings"

	"loosebox/storage"
	"loosebox/storage/share"
)

// state is what is remembered of a hub. It is written in the transaction that takes in
// what was read up to the cursor.
type state struct {
	Cursor uint64 `json:"cursor"` // sequence of the last message that was read
	Mark   mark   `json:"mark"`   // what is remembered of that message
	// Rows is how far the hub holds each log and branch of the record, by storage.Held.Row.
	Rows map[string]rowState `json:"rows"`
	// Logs are the last messages of each log, by its name.
	Logs map[string]logState `json:"logs"`
	// Said are the statements that the hub holds, by the first half of their digests.
	Said map[string]bool `json:"said,omitempty"`
	// Aside are messages that verify and that the record did not take, by their sequences:
	// the hub keeps them, and they are read again when more has come.
	Aside map[uint64]aside `json:"aside,omitempty"`
	// Sealed says that something there is sealed, For to whom what Rows says counts: where
	// a laptop comes in that is not among them, the hub is read anew.
	Sealed bool        `json:"sealed,omitempty"`
	For    []share.Tag `json:"for,omitempty"`
}

// aside is why a message was not taken.
type aside struct {
	Why     string `json:"why,omitempty"`     // a sentence
	Unknown string `json:"unknown,omitempty"` // fingerprint of a key that nobody let in
	Left    bool   `json:"left,omitempty"`    // it is of rehearsals, which were left out
	Lines   int    `json:"lines"`
	// Closed is the last record of one that is sealed, and not to this laptop.
	Closed *closed `json:"closed,omitempty"`
}

// closed is a record of which its log's key signed that it is there.
type closed struct {
	Log    string `json:"log"`
	N      uint64 `json:"n"`
	Digest string `json:"digest"`
	// Rehearsals says that it is of rehearsals: nobody seals it anew while they are left out.
	Rehearsals bool `json:"rehearsals,omitempty"`
}

// rowState is how far the hub holds a log or a branch as the record holds it.
type rowState struct {
	N      uint64 `json:"n"`
	Digest string `json:"digest"` // of that record
	// Short is how far the hub holds it sealed to fewer laptops than are in.
	Short uint64 `json:"short,omitempty"`
}

// logState is the last messages of a log, as what is sent next must follow them.
type logState struct {
	Own     uint64 `json:"own,omitempty"`     // sequence on this laptop's own subject
	Carried uint64 `json:"carried,omitempty"` // and on the subjects of all who carry it
}

// maxAside bounds what is tried again; the hub keeps what is beyond.
const maxAside = 10_000

func readState(data []byte) (*state, error) {
	s := empty()
	if data == nil {
		return s, nil
	}
	if err := json.Unmarshal(data, s); err != nil {
		return nil, fmt.Errorf("what is remembered of the hub cannot be read: %w", err)
	}
	return s, nil
}

func (s *state) bytes() ([]byte, error) {
	data, err := json.Marshal(s)
	if err != nil {
		return nil, fmt.Errorf("remember how far the hub was read: %w", err)
	}
	return data, nil
}

// empty is what is remembered of a hub that was not read yet.
func empty() *state {
	return &state{Rows: map[string]rowState{}, Logs: map[string]logState{}, Said: map[string]bool{}, Aside: map[uint64]aside{}}
}

func (s *state) clone() *state {
	c := *s
	c.Rows, c.Logs, c.Said, c.Aside = maps.Clone(s.Rows), maps.Clone(s.Logs), maps.Clone(s.Said), maps.Clone(s.Aside)
	return &c
}

// passed moves the cursor behind a message.
func (s *state) passed(m message, own string) {
	s.Cursor, s.Mark = m.seq, m.mark()
	kind, key, log, ok := splitSubject(m.subject)
	if !ok {
		return
	}
	l := s.Logs[log]
	switch {
	case kind == "carry":
		l.Carried = max(l.Carried, m.seq)
	case key == own:
		l.Own = max(l.Own, m.seq)
	default:
		return
	}
	s.Logs[log] = l
}

// grew notes that the hub holds a segment which a row of the record holds too. What is
// below a branch is for the row that it left.
func (s *state) grew(row storage.LogBranch, p *part) {
	name := row.Name.String()
	at := s.Rows[name]
	s.Sealed = s.Sealed || p.sealed
	switch have := max(at.N, row.Base); {
	case !p.reaches || p.closed:
		at.Short = max(at.Short, p.end.N)
	case p.First <= have+1 && p.end.N > have:
		at.N, at.Digest = p.end.N, p.end.Digest.String()
	default:
		return
	}
	s.Rows[name] = at
}

// put keeps a message aside.
func (s *state) put(seq uint64, a aside) {
	if _, there := s.Aside[seq]; there || len(s.Aside) < maxAside {
		s.Aside[seq] = a
	}
}

// leftSome says that some of what is aside is of rehearsals that were left out.
func (s *state) leftSome() bool {
	for _, a := range s.Aside {
		if a.Left {
			return true
		}
	}
	return false
}

// kept says what is aside: a sentence each, the lines of laptops that nobody let in, and
// those that are sealed. Rehearsals do not count where they stay out.
func (s *state) kept(stay bool) (why []string, unknown map[string]int, sealed int) {
	for _, seq := range slices.Sorted(maps.Keys(s.Aside)) {
		a := s.Aside[seq]
		if a.Why != "" {
			why = append(why, a.Why)
		}
		if a.Unknown != "" {
			if unknown == nil {
				unknown = map[string]int{}
			}
			unknown[a.Unknown] += a.Lines
		}
		if a.Closed != nil && !(stay && a.Closed.Rehearsals) {
			sealed += a.Lines
		}
	}
	return why, unknown, sealed
}

// logSubject is the subject of a log of a practice, by the key of its laptop.
func logSubject(practice, key, log string) string {
	return "log.v1." + practice + "." + key + "." + log
}

func carrySubject(practice, key, log string) string {
	return "carry.v1." + practice + "." + key + "." + log
}

func splitSubject(subject string) (kind, key, log string, ok bool) {
	t := strings.Split(subject, ".")
	if len(t) != 5 {
		return "", "", "", false
	}
	return t[0], t[3], t[4], true
}

// Stream is the name of a practice's stream.
func Stream(practice string) string { return "LOG_" + practice }

// message is one message of the stream.
type message struct {
	seq     uint64
	subject string
	at      string // when the server stored it, as it says so
	data    []byte
}

// mark identifies a message: a server that was restored from an older copy has other messages under
// the same sequences.
type mark struct {
	Digest string `json:"digest"`       // of sequence, subject and bytes
	At     string `json:"at,omitempty"` // empty where an acknowledgment alone tells of the message
}

func (m message) mark() mark {
	h := sha256.New()
	h.Write(fmt.Appendf(nil, "%d\x00%s\x00", m.seq, m.subject))
	h.Write(m.data)
	return mark{hex.EncodeToString(h.Sum(nil)[:16]), m.at}
}

func (k mark) same(other mark) bool {
	return k.Digest == other.Digest && (k.At == other.At || k.At == "" || other.At == "")
}
