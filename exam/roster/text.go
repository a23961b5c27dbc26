package roster

import (
	"bytes"
	"crypto/ed25519"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"slices"
	"time"

	"loosebox/exam/notation"
	"loosebox/exam/signedlog"
)

// A statement, a request and an answer are short texts: a line that says what it is, and
// for each part a line of JSON and a line with its signature in hex.
const (
	statementHead = "loosebox roster 1"
	requestHead   = "loosebox share request 1"
	answerHead    = "loosebox share answer 1"
)

// What stands before the bytes that are signed.
const (
	domainStatement = "loosebox/roster/1\x00"
	domainRequest   = "loosebox/share request/1\x00"
)

// Bounds of the texts.
const (
	MaxText = 1 << 20 // bytes
	maxName = 60      // characters of a practice or a laptop
)

// ErrText is wrapped where a text is not what it should be, or was changed.
var ErrText = errors.New("it is not what was signed, or is of another kind")

type statementBody struct {
	Practice string            `json:"practice"`
	Called   string            `json:"practice_name"`
	Key      string            `json:"key"`
	Name     string            `json:"name"`
	Out      bool              `json:"out"`
	Until    map[string]uint64 `json:"until,omitempty"`
	At       time.Time         `json:"at"`
	Hub      *Hub              `json:"hub,omitempty"`    // key and name are the practice's then
	Sealed   *bool             `json:"sealed,omitempty"` // and then
}

// Name makes a name of a practice or laptop of what was typed; an error where nothing is left.
func Name(typed string) (string, error) {
	name := notation.CleanLine(typed, 0)
	if name == "" || len([]rune(name)) > maxName {
		return "", &notation.Refusal{Typed: typed, Why: fmt.Sprintf("a name has 1 to %d characters", maxName)}
	}
	return name, nil
}

// Say makes and signs a statement with the practice's key.
func Say(key ed25519.PrivateKey, s Statement) (Statement, error) {
	if s.ofPractice() {
		s.Key, s.Name = s.Practice.Key, s.Practice.Name
	}
	b := statementBody{
		Practice: hex.EncodeToString(s.Practice.Key), Called: s.Practice.Name, Key: hex.EncodeToString(s.Key), Name: s.Name, Out: s.Out, At: s.At, Hub: s.Hub, Sealed: s.Sealed,
	}
	b.Until = untilText(s.Until)
	body, err := json.Marshal(b)
	if err != nil {
		return s, fmt.Errorf("write a statement: %w", err)
	}
	return parseStatement(body, ed25519.Sign(key, append([]byte(domainStatement), body...)))
}

func parseStatement(body, signature []byte) (Statement, error) {
	var b statementBody
	if err := json.Unmarshal(body, &b); err != nil {
		return Statement{}, ErrText
	}
	practice, err1 := hex.DecodeString(b.Practice)
	key, err2 := hex.DecodeString(b.Key)
	called, err3 := Name(b.Called)
	name, err4 := Name(b.Name)
	s := Statement{
		Practice: Practice{called, practice}, Key: key, Name: name, Out: b.Out, At: b.At, Hub: b.Hub, Sealed: b.Sealed,
		body: body, signature: signature,
	}
	if errors.Join(err1, err2, err3, err4) != nil || len(key) != ed25519.PublicKeySize || len(practice) != ed25519.PublicKeySize ||
		called != b.Called || name != b.Name || b.Hub != nil && !b.Hub.plain() || !ed25519.Verify(practice, append([]byte(domainStatement), body...), signature) {
		return Statement{}, ErrText
	}
	var err error
	s.Until, err = readUntil(b.Until)
	return s, err
}

func untilText(until map[signedlog.ID]uint64) map[string]uint64 {
	out := map[string]uint64{}
	for log, n := range until {
		out[log.String()] = n
	}
	return out
}

func readUntil(text map[string]uint64) (map[signedlog.ID]uint64, error) {
	out := map[signedlog.ID]uint64{}
	for log, n := range text {
		id, err := hex.DecodeString(log)
		if err != nil || len(id) != len(signedlog.ID{}) {
			return nil, ErrText
		}
		out[signedlog.ID(id)] = n
	}
	return out, nil
}

// Bytes are a statement as a file.
func (s Statement) Bytes() []byte { return text(statementHead, [2][]byte{s.body, s.signature}) }

// ReadStatement reads and verifies a statement by the key that it names.
func ReadStatement(data []byte) (Statement, error) {
	parts, err := untext(statementHead, data)
	if err != nil || len(parts) != 1 {
		return Statement{}, ErrText
	}
	return parseStatement(parts[0][0], parts[0][1])
}

// Request is a laptop that asks to come in.
type Request struct {
	Key  ed25519.PublicKey
	Name string
	// Earlier are the lines of other keys that its record holds, as of the laptop before it.
	Earlier []Lines
}

// Lines are the logs of one key, as far as a record holds them.
type Lines struct {
	Key   ed25519.PublicKey
	Until map[signedlog.ID]uint64
}

type requestBody struct {
	Key     string                       `json:"key"`
	Name    string                       `json:"name"`
	Earlier map[string]map[string]uint64 `json:"earlier,omitempty"` // by key and log
}

// Words are the request as it is read aloud on both laptops.
func (r Request) Words() string { return words("loosebox/request words/1\x00", r.Key, r.Name) }

// Bytes are a request as a file, signed by the laptop's key.
func (r Request) Bytes(sign func([]byte) []byte) ([]byte, error) {
	b := requestBody{Key: hex.EncodeToString(r.Key), Name: r.Name, Earlier: map[string]map[string]uint64{}}
	for _, l := range r.Earlier {
		b.Earlier[hex.EncodeToString(l.Key)] = untilText(l.Until)
	}
	body, err := json.Marshal(b)
	if err != nil {
		return nil, fmt.Errorf("write a request: %w", err)
	}
	return text(requestHead, [2][]byte{body, sign(append([]byte(domainRequest), body...))}), nil
}

// ReadRequest reads and verifies a request.
func ReadRequest(data []byte) (Request, error) {
	var b requestBody
	parts, err := untext(requestHead, data)
	if err != nil || len(parts) != 1 || json.Unmarshal(parts[0][0], &b) != nil {
		return Request{}, ErrText
	}
	key, err1 := hex.DecodeString(b.Key)
	name, err2 := Name(b.Name)
	if errors.Join(err1, err2) != nil || name != b.Name || len(key) != ed25519.PublicKeySize ||
		!ed25519.Verify(key, append([]byte(domainRequest), parts[0][0]...), parts[0][1]) {
		return Request{}, ErrText
	}
	q := Request{Key: key, Name: name}
	for _, text := range slices.Sorted(maps.Keys(b.Earlier)) {
		other, err := hex.DecodeString(text)
		if err != nil || len(other) != ed25519.PublicKeySize {
			return Request{}, ErrText
		}
		until, err := readUntil(b.Earlier[text])
		if err != nil {
			return Request{}, err
		}
		q.Earlier = append(q.Earlier, Lines{other, until})
	}
	return q, nil
}

// Answer is a roster as a file: what a laptop that asked is given.
func (r Roster) Answer() []byte {
	parts := make([][2][]byte, len(r.Said))
	for i, s := range r.Said {
		parts[i] = [2][]byte{s.body, s.signature}
	}
	return text(answerHead, parts...)
}

// ReadAnswer reads and verifies an answer: a roster with at least one statement, all of
// one practice.
func ReadAnswer(data []byte) (Roster, error) {
	parts, err := untext(answerHead, data)
	if err != nil || len(parts) == 0 {
		return Roster{}, ErrText
	}
	var r Roster
	for _, p := range parts {
		s, err := parseStatement(p[0], p[1])
		if err != nil || !r.None() && !bytes.Equal(r.Practice.Key, s.Practice.Key) {
			return Roster{}, ErrText
		}
		r.Add(s)
	}
	return r, nil
}

func text(head string, parts ...[2][]byte) []byte {
	out := []byte(head + "\n")
	for _, p := range parts {
		out = append(out, p[0]...)
		out = fmt.Appendf(out, "\n%x\n", p[1])
	}
	return out
}

// untext takes a text apart; line ends of Windows are taken too.
func untext(head string, data []byte) (parts [][2][]byte, err error) {
	if len(data) > MaxText {
		return nil, ErrText
	}
	lines := bytes.Split(bytes.TrimSpace(bytes.ReplaceAll(data, []byte("\r\n"), []byte("\n"))), []byte("\n"))
	if len(lines)%2 == 0 || string(lines[0]) != head {
		return nil, ErrText
	}
	for pair := range slices.Chunk(lines[1:], 2) {
		signature, err := hex.DecodeString(string(pair[1]))
		if err != nil {
			return nil, ErrText
		}
		parts = append(parts, [2][]byte{bytes.Clone(pair[0]), signature})
	}
	return parts, nil
}
