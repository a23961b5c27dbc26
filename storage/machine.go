package storage

import (
	"crypto/ed25519"
	"crypto/rand"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"loosebox/storage/outside"
)

// KeyName is the name of this machine's key in its folder (Options.KeyDir).
const KeyName = "machine.key"

// keyHead is the first line of the key's file; the second is the seed in hex.
const keyHead = "loosebox machine key 1"

// machine is the key of this machine, Ed25519 (RFC 8032), which signs what is written.
type machine struct {
	private ed25519.PrivateKey
}

func machineOf(seed []byte) *machine { return &machine{private: ed25519.NewKeyFromSeed(seed)} }

// name is by what a machine's own files are known: the first half of the SHA-256 of its
// public key.
func (m *machine) name() string {
	digest := sha256.Sum256(m.public())
	return id(digest[:16]).String()
}

func (m *machine) public() ed25519.PublicKey {
	p, _ := m.private.Public().(ed25519.PublicKey) // it is no other
	return p
}

// loadMachine reads this machine's key, and makes one where there is none. A key
// file that cannot be read for what it is, is kept under another name, which is returned.
func loadMachine(dir string) (m *machine, broken string, err error) {
	name := filepath.Join(dir, KeyName)
	m, err = readMachine(name)
	switch {
	case err == nil:
		return m, "", ownerOnly(name)
	case errors.Is(err, errNoKey):
		if broken, err = setAside(name); err != nil {
			return nil, "", err
		}
	case !errors.Is(err, fs.ErrNotExist):
		return nil, "", fmt.Errorf("this machine's key cannot be read, so nothing can be written: %w", err)
	}
	if err := os.MkdirAll(dir, folderMode); err != nil {
		return nil, broken, fmt.Errorf("the folder of this machine's key cannot be made, so nothing can be written: %w", err)
	}
	if err := makeKey(dir, name); err != nil {
		return nil, broken, fmt.Errorf("this machine's key cannot be made, so nothing can be saved. Check the space and the permissions of %s: %w", dir, err)
	}
	m, err = readMachine(name)
	return m, broken, err
}

// errNoKey says that a file is no key.
var errNoKey = errors.New("it is no machine key")

func readMachine(name string) (*machine, error) {
	data, err := outside.ReadFile(name, 4<<10)
	if err != nil {
		return nil, err
	}
	lines := strings.Fields(strings.TrimPrefix(string(data), keyHead))
	if !strings.HasPrefix(string(data), keyHead) || len(lines) != 1 {
		return nil, errNoKey
	}
	seed, err := hex.DecodeString(lines[0])
	if err != nil || len(seed) != ed25519.SeedSize {
		return nil, errNoKey
	}
	return machineOf(seed), nil
}

// BrokenKey is the file in which this opening kept a key that could be read no longer; a new
// one was made in its place. It is empty where the key was in order.
func (r *Record) BrokenKey() string { return r.broken }

// setAside gives a broken key another name, which it returns: it may still be mended by hand.
func setAside(name string) (string, error) {
	for n := 1; n < 1000; n++ {
		other := fmt.Sprintf("%s.broken-%d", name, n)
		if _, err := os.Lstat(other); errors.Is(err, fs.ErrNotExist) {
			return other, os.Rename(name, other)
		}
	}
	return "", fmt.Errorf("%s: %w", name, errNoKey)
}

// makeKey writes a new key under a temporary name and gives it its own when it is
// whole. A key that another run made meanwhile is kept.
func makeKey(dir, name string) error {
	seed := make([]byte, ed25519.SeedSize)
	if _, err := rand.Read(seed); err != nil {
		return err
	}
	temp, err := writeTemp(dir, KeyName, []byte(keyHead+"\n"+hex.EncodeToString(seed)+"\n"), true)
	if err != nil {
		return err
	}
	defer func() { _ = os.Remove(temp) }()
	if err := settle(temp, name); err != nil {
		return err
	}
	return syncFolder(dir)
}

// writeTemp writes a file that only its owner can read under a temporary name beside its
// own; synced where it must outlast a loss of power.
func writeTemp(dir, name string, data []byte, synced bool) (string, error) {
	f, err := os.CreateTemp(dir, name+".new-*") // 0600
	if err != nil {
		return "", err
	}
	_, err = f.Write(data)
	if synced && err == nil {
		err = f.Sync()
	}
	if err = errors.Join(err, f.Close()); err != nil {
		_ = os.Remove(f.Name())
		return "", err
	}
	return f.Name(), nil
}
