package backup

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"filippo.io/age"

	"loosebox/storage/outside"
	"loosebox/storage/unfinished"
)

// MinPassphrase is the least number of characters of a passphrase that is taken.
const MinPassphrase = 8

// maxWork bounds the work factor of a file that is read: 2^20 takes a few seconds;
// a file from a stranger could ask for hours.
const maxWork = 20

// ToPassphrase is the recipient of a passphrase. Work is the work factor, 0 for
// the usual one of the format, about a second.
func ToPassphrase(phrase string, work int) (age.Recipient, error) {
	if len([]rune(phrase)) < MinPassphrase {
		return nil, fmt.Errorf("a passphrase has at least %d characters: several words that belong together for you alone", MinPassphrase)
	}
	r, err := age.NewScryptRecipient(phrase)
	if err != nil {
		return nil, fmt.Errorf("take the passphrase: %w", err)
	}
	if work > 0 {
		r.SetWorkFactor(work)
	}
	return r, nil
}

// WithPassphrase is the identity of a passphrase.
func WithPassphrase(phrase string) (age.Identity, error) {
	id, err := age.NewScryptIdentity(phrase)
	if err != nil {
		return nil, fmt.Errorf("take the passphrase: %w", err)
	}
	id.SetMaxWorkFactor(maxWork)
	return id, nil
}

// ToKeys reads recipients, one or more public keys (age1…) with spaces between.
func ToKeys(text string) ([]age.Recipient, error) {
	list, err := age.ParseRecipients(strings.NewReader(strings.Join(strings.Fields(text), "\n")))
	if err != nil || len(list) == 0 {
		return nil, errors.New("this is no whole public key, which begins with age1; loosebox backup --new-key makes one")
	}
	return list, nil
}

// NewKey writes a new identity, encrypted to a passphrase, into a file that is not
// there yet, and returns its recipient. The file is what age's own tools take for
// an identity.
func NewKey(name string, phrase age.Recipient) (recipient string, err error) {
	id, err := age.GenerateX25519Identity()
	if err != nil {
		return "", fmt.Errorf("make the key: %w", err)
	}
	var b bytes.Buffer
	w, err := age.Encrypt(&b, phrase)
	if err == nil {
		_, err = fmt.Fprintf(w, "# public key: %s\n%s\n", id.Recipient(), id)
		err = errors.Join(err, w.Close())
	}
	if err != nil {
		return "", fmt.Errorf("encrypt the key: %w", err)
	}
	f, err := unfinished.Create(name, "key")
	if err != nil {
		return "", fmt.Errorf("the key is not written: %w", err)
	}
	defer f.Discard()
	if _, err := f.Write(b.Bytes()); err != nil {
		return "", fmt.Errorf("write the key: %w", err)
	}
	if err := f.Finish(nil); err != nil {
		return "", fmt.Errorf("the key is not written: %w", err)
	}
	return id.Recipient().String(), nil
}

// maxKey bounds the file of an identity.
const maxKey = 1 << 20

// ReadKey reads the identities of a file: plain, or encrypted to a passphrase,
// which is then asked for. Another passphrase is an error, and no damage of a backup.
func ReadKey(name string, phrase func() (string, error)) ([]age.Identity, error) {
	f, err := outside.Open(name, maxKey)
	if err != nil {
		return nil, fmt.Errorf("the key cannot be opened: %w", err)
	}
	defer f.Close() //nolint:errcheck // read only
	data, err := io.ReadAll(f)
	if err != nil {
		return nil, fmt.Errorf("the key cannot be read: %w", err)
	}
	if bytes.HasPrefix(data, []byte("age-encryption.org/")) {
		words, err := phrase()
		if err != nil {
			return nil, err
		}
		id, err := WithPassphrase(words)
		if err != nil {
			return nil, err
		}
		plain, err := age.Decrypt(bytes.NewReader(data), id)
		if err == nil {
			data, err = io.ReadAll(io.LimitReader(plain, maxKey))
		}
		if err != nil {
			return nil, fmt.Errorf("the key in %s does not open: another passphrase, or a changed file; nothing was changed", filepath.Base(name))
		}
	}
	list, err := age.ParseIdentities(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("%s holds no key (a line AGE-SECRET-KEY-1…)", name)
	}
	return list, nil
}
