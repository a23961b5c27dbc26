// Package trial makes practices and laptops for tests, the soak and the bench. The hub does not use it.
package trial

import (
	"context"
	"crypto/ed25519"
	"crypto/rand"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/roster"
	"loosebox/storage"
)

// Practice is a practice with its secret key.
type Practice struct {
	roster.Roster
	key ed25519.PrivateKey
	at  time.Time
}

// NewPractice makes a practice with a new key and without laptops. An error where no random key can be made.
func NewPractice(name string) (*Practice, error) {
	public, private, err := ed25519.GenerateKey(rand.Reader)
	if err != nil {
		return nil, err
	}
	return &Practice{Roster: roster.Roster{Practice: roster.Practice{Name: name, Key: public}}, key: private, at: Day()}, nil
}

// PracticeOf is the practice with the key of a seed of 32 bytes (ed25519.SeedSize), without laptops.
func PracticeOf(name string, seed []byte) *Practice {
	private := ed25519.NewKeyFromSeed(seed)
	public, _ := private.Public().(ed25519.PublicKey) // always that type
	return &Practice{Roster: roster.Roster{Practice: roster.Practice{Name: name, Key: public}}, key: private, at: Day()}
}

// Seed is the seed of the practice's key, which is secret.
func (p *Practice) Seed() []byte { return p.key.Seed() }

// Day is the time at which all trials take place.
func Day() time.Time { return time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC) }

// Say signs a statement, adds it to the practice, and returns it as signed.
func (p *Practice) Say(s roster.Statement) (roster.Statement, error) {
	p.at = p.at.Add(time.Second)
	s.Practice, s.At = p.Practice, p.at
	s, err := roster.Say(p.key, s)
	p.Add(s)
	return s, err
}

// Admit takes a laptop into the practice.
func (p *Practice) Admit(key ed25519.PublicKey, name string) error {
	_, err := p.Say(roster.Statement{Key: key, Name: name})
	return err
}

// Seal sets whether what is exchanged is sealed.
func (p *Practice) Seal(on bool) error {
	_, err := p.Say(roster.Statement{Sealed: &on})
	return err
}

// End takes a laptop out of the practice; its lines count as far as the laptop by holds them.
func (p *Practice) End(of, by *Laptop) error {
	until, err := by.Reach(of.Key())
	if err == nil {
		_, err = p.Say(roster.Statement{Key: of.Key(), Name: of.Name, Out: true, Until: until})
	}
	return err
}

// Write writes the practice to a file for a hub.
func (p *Practice) Write(file string) error { return os.WriteFile(file, p.Answer(), 0o600) }

// Laptop is one record that shares.
type Laptop struct {
	*storage.Record
	Name string
	Dir  string
	n    int
}

// Open opens a laptop's record, with key and record in the folder dir. Close it after use.
func Open(name, dir string) (*Laptop, error) {
	r, err := storage.Open(dir, storage.Options{})
	if err != nil {
		return nil, err
	}
	return &Laptop{Record: r, Name: name, Dir: dir}, nil
}

// Join adds the practice's statements to the record.
func (l *Laptop) Join(p *Practice) error {
	_, err := l.TakeStatements(context.Background(), p.Said)
	return err
}

// Copy copies a laptop's folder, including its key. The record must be closed.
func Copy(from, to string) error {
	list, err := os.ReadDir(from)
	if err != nil {
		return err
	}
	if err := os.MkdirAll(to, 0o700); err != nil {
		return err
	}
	for _, f := range list {
		if !f.Type().IsRegular() {
			continue
		}
		data, err := os.ReadFile(filepath.Join(from, f.Name()))
		if err == nil {
			err = os.WriteFile(filepath.Join(to, f.Name()), data, 0o600)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// Examine stores a horse and a closed visit with so many findings.
func (l *Laptop) Examine(findings int) (exam.VisitID, error) {
	v, err := l.Begin(findings)
	if err != nil {
		return "", err
	}
	_, err = l.Append(exam.Entry{Visit: v, At: Day(), By: l.Name, Kind: exam.EntryClosed})
	return v, err
}

// Begin stores a horse and an open visit with so many findings.
func (l *Laptop) Begin(findings int) (exam.VisitID, error) {
	l.n++
	at := Day().Add(time.Duration(l.n) * time.Minute)
	h, err := l.SaveHorse(exam.Horse{Name: fmt.Sprint("Horse ", l.n, " of ", l.Name), Kind: exam.AnimalHorse, Revision: 1}, l.Name, at)
	if err != nil {
		return "", err
	}
	v, err := l.Record.Begin(exam.Entry{Kind: exam.EntryOpened, At: at, By: l.Name, Opening: &exam.Opening{Horse: exam.Horse{ID: h.ID}, Routine: "full", Reason: "yearly check"}})
	if err != nil {
		return "", err
	}
	for i := range findings {
		if err := l.Answer(v.ID, i); err != nil {
			return "", err
		}
	}
	return v.ID, nil
}

// Answer adds finding number i to a visit.
func (l *Laptop) Answer(v exam.VisitID, i int) error {
	_, err := l.Append(exam.Entry{
		Visit: v, At: Day(), By: l.Name, Kind: exam.EntryFinding, Step: exam.StepID(fmt.Sprintf("step.number%d", i)),
		Value: &exam.Value{Kind: exam.KindPick, Words: []string{fmt.Sprint("word ", i)}},
	})
	return err
}

// Held is the state of the record as text, to compare two records: each log with its length and last digest.
func (l *Laptop) Held() (string, error) {
	logs, err := l.Logs()
	var ends []string
	for _, h := range logs {
		ends = append(ends, fmt.Sprintf("%s %d %s\n", h.Log, h.N, h.Last))
	}
	slices.Sort(ends) // laptops differ in which of two branches is the log's own row
	return strings.Join(ends, ""), err
}

// Fill writes closed visits until some records are there, many in a transaction.
func (l *Laptop) Fill(records int) error {
	const lines, visits = 62, 20
	for records > 0 {
		l.n++
		at := Day().Add(time.Duration(l.n) * time.Minute)
		one := storage.Imported{Horse: exam.Horse{Name: fmt.Sprint("Horse ", l.n, " of ", l.Name), Kind: exam.AnimalHorse, Revision: 1}, By: l.Name, At: at}
		for range visits {
			list := []exam.Entry{{Kind: exam.EntryOpened, At: at, By: l.Name, Opening: &exam.Opening{Routine: "full", Reason: "yearly check"}}}
			for i := range lines - 2 {
				list = append(list, exam.Entry{
					At: at, By: l.Name, Kind: exam.EntryFinding, Step: exam.StepID(fmt.Sprintf("step.number%d", i)),
					Value: &exam.Value{Kind: exam.KindPick, Words: []string{fmt.Sprint("word ", i+l.n)}},
				})
			}
			one.Entries = append(one.Entries, append(list, exam.Entry{At: at, By: l.Name, Kind: exam.EntryClosed}))
		}
		if err := l.Import(context.Background(), []storage.Imported{one}); err != nil {
			return err
		}
		records -= lines*visits + 1
	}
	return nil
}

// End exits with code 1 and a message where err is not nil; it does nothing otherwise.
func End(name string, err error) {
	if err != nil {
		fmt.Fprintln(os.Stderr, name+":", err)
		os.Exit(1) //nolint:forbidigo // of a program of this module
	}
}
