package share

import (
	"bytes"
	"crypto/ed25519"
	"crypto/rand"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"strings"

	"filippo.io/age"

	"loosebox/exam/roster"
	"loosebox/storage/backup"
	"loosebox/storage/outside"
	"loosebox/storage/unfinished"
)

// practiceKeyHead begins what is encrypted; name and seed follow, a line each.
const practiceKeyHead = "loosebox practice key 1"

// PracticeKey is the key that says which laptops are in a practice.
type PracticeKey struct {
	roster.Practice
	Private ed25519.PrivateKey
}

// NewPracticeKey makes a practice and writes its key, encrypted to a passphrase in the
// age format, into a file that is not there yet.
func NewPracticeKey(file, name string, to age.Recipient) (PracticeKey, error) {
	seed := make([]byte, ed25519.SeedSize)
	if _, err := rand.Read(seed); err != nil {
		return PracticeKey{}, fmt.Errorf("make the practice's key: %w", err)
	}
	var b bytes.Buffer
	w, err := age.Encrypt(&b, to)
	if err == nil {
		_, err = fmt.Fprintf(w, "%s\n%s\n%x\n", practiceKeyHead, name, seed)
		err = errors.Join(err, w.Close())
	}
	if err != nil {
		return PracticeKey{}, fmt.Errorf("encrypt the practice's key: %w", err)
	}
	f, err := unfinished.Create(file, "practice")
	if err != nil {
		return PracticeKey{}, fmt.Errorf("the practice's key is not written: %w", err)
	}
	defer f.Discard()
	if _, err := f.Write(b.Bytes()); err != nil {
		return PracticeKey{}, fmt.Errorf("write the practice's key: %w", err)
	}
	if err := f.Finish(nil); err != nil {
		return PracticeKey{}, fmt.Errorf("the practice's key is not written: %w", err)
	}
	return practiceKey(name, seed), nil
}

func practiceKey(name string, seed []byte) PracticeKey {
	private := ed25519.NewKeyFromSeed(seed)
	public, _ := private.Public().(ed25519.PublicKey) // it is no other
	return PracticeKey{roster.Practice{Name: name, Key: public}, private}
}

// maxPracticeKey bounds the file of a practice's key.
const maxPracticeKey = 64 << 10

// ReadPracticeKey decrypts a practice's key.
func ReadPracticeKey(file, passphrase string) (PracticeKey, error) {
	data, err := outside.ReadFile(file, maxPracticeKey)
	if err != nil {
		return PracticeKey{}, fmt.Errorf("the practice's key cannot be read: %w", err)
	}
	id, err := backup.WithPassphrase(passphrase)
	if err != nil {
		return PracticeKey{}, err
	}
	plain, err := age.Decrypt(bytes.NewReader(data), id)
	if err == nil {
		data, err = io.ReadAll(io.LimitReader(plain, maxPracticeKey))
	}
	var other *age.NoIdentityMatchError
	switch {
	case errors.As(err, &other):
		return PracticeKey{}, fmt.Errorf("the passphrase does not open %s: nothing was changed. Type it again", file)
	case err != nil:
		return PracticeKey{}, fmt.Errorf("%s is no practice's key, or it is damaged: nothing was changed. Take another copy of it (%w)", file, err)
	}
	lines := strings.Split(strings.TrimSpace(string(data)), "\n")
	if len(lines) != 3 || lines[0] != practiceKeyHead {
		return PracticeKey{}, fmt.Errorf("%s holds no practice's key", file)
	}
	name, err1 := roster.Name(lines[1])
	seed, err2 := hex.DecodeString(lines[2])
	if errors.Join(err1, err2) != nil || len(seed) != ed25519.SeedSize {
		return PracticeKey{}, fmt.Errorf("%s holds no practice's key", file)
	}
	return practiceKey(name, seed), nil
}
