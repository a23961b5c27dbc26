package server

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"crypto/x509/pkix"
	"encoding/pem"
	"errors"
	"fmt"
	"io/fs"
	"math/big"
	"os"
	"path/filepath"
	"time"

	"github.com/nats-io/nkeys"

	"loosebox/storage/share/hub"
)

// The files by which a hub is known, in its data folder.
const (
	CertificateName = "hub.pem"
	keyName         = "hub.key"
	adminName       = "admin.seed" // of the one who makes the stream of a stock server
)

// certificateYears is how long a certificate is valid. Laptops accept it for longer: they compare it with the one they
// know.
const certificateYears = 10

// certificate reads the hub's key and certificate, and makes them where there are none.
func certificate(dir string, now time.Time) (tls.Certificate, []byte, error) {
	certFile, keyFile := filepath.Join(dir, CertificateName), filepath.Join(dir, keyName)
	_, err := os.Stat(certFile)
	if errors.Is(err, fs.ErrNotExist) { // also where a first start ended after it wrote the key
		err = makeCertificate(certFile, keyFile, now)
	}
	if err != nil {
		return tls.Certificate{}, nil, err
	}
	pair, err := tls.LoadX509KeyPair(certFile, keyFile)
	if err != nil {
		return pair, nil, fmt.Errorf("the hub's certificate cannot be read: %w", err)
	}
	text, err := os.ReadFile(certFile)
	return pair, text, err
}

func makeCertificate(certFile, keyFile string, now time.Time) error {
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		return fmt.Errorf("make the hub's key: %w", err)
	}
	serial, err := rand.Int(rand.Reader, new(big.Int).Lsh(big.NewInt(1), 120))
	if err != nil {
		return fmt.Errorf("make the hub's key: %w", err)
	}
	plan := &x509.Certificate{
		SerialNumber: serial, Subject: pkix.Name{CommonName: hub.ServerName}, DNSNames: []string{hub.ServerName},
		NotBefore: now.AddDate(0, 0, -1), NotAfter: now.AddDate(certificateYears, 0, 0),
		IsCA: true, BasicConstraintsValid: true, MaxPathLenZero: true,
		KeyUsage: x509.KeyUsageDigitalSignature | x509.KeyUsageCertSign, ExtKeyUsage: []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth, x509.ExtKeyUsageClientAuth}, // servers of a cluster show it to each other
	}
	der, err := x509.CreateCertificate(rand.Reader, plan, plan, key.Public(), key)
	if err != nil {
		return fmt.Errorf("make the hub's certificate: %w", err)
	}
	secret, err := x509.MarshalPKCS8PrivateKey(key)
	if err != nil {
		return fmt.Errorf("make the hub's key: %w", err)
	}
	if err := writeFile(keyFile, pem.EncodeToMemory(&pem.Block{Type: "PRIVATE KEY", Bytes: secret}), 0o600); err != nil {
		return err
	}
	return writeFile(certFile, pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: der}), 0o644)
}

// admin is the key pair that may make the stream of a stock server; it is made where there is none.
func admin(dir string) (nkeys.KeyPair, error) {
	name := filepath.Join(dir, adminName)
	seed, err := os.ReadFile(name)
	if errors.Is(err, fs.ErrNotExist) {
		pair, err := nkeys.CreateUser()
		if err != nil {
			return nil, fmt.Errorf("make a key: %w", err)
		}
		if seed, err = pair.Seed(); err != nil {
			return nil, fmt.Errorf("make a key: %w", err)
		}
		return pair, writeFile(name, seed, 0o600)
	}
	if err != nil {
		return nil, err
	}
	return nkeys.FromSeed(seed)
}
