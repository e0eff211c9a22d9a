package app

import (
	"context"
	"crypto/rand"
	"crypto/sha256"
	"crypto/subtle"
	"encoding/base64"
	"encoding/hex"
	"errors"
	"fmt"
	"strings"
	"sync"
	"time"
	"unicode/utf8"

	"haulm/internal/store"
)

// Limits of a pairing code: how long it holds, and how many wrong ones make it
// void. 32 signs in 8 places and 5 tries leave a guesser one chance in 200
// thousand million.
const (
	codeHolds  = 10 * time.Minute
	codeTries  = 5
	codePlaces = 8
	codeSigns  = "23456789ABCDEFGHJKLMNPQRSTUVWXYZ" // none that is taken for another
)

// The reasons for which a code does not pair.
var (
	ErrCodeWrong = errors.New("that is not the code")
	ErrCodeVoid  = errors.New("there is no code to pair with: it was used, it is older than ten minutes, or too many wrong ones were tried; ask for a new one on the machine where Haulm runs")
)

// Codes hands out one-time codes by which a phone is paired. It may be used by
// several goroutines.
type Codes struct {
	Now func() time.Time

	mu    sync.Mutex
	code  string
	until time.Time
	tries int
}

// New makes a code and voids the one before.
func (c *Codes) New() string {
	raw := make([]byte, codePlaces)
	_, _ = rand.Read(raw) // never fails, see crypto/rand
	for i := range raw {
		raw[i] = codeSigns[int(raw[i])%len(codeSigns)] // 256 is a whole multiple of 32
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	c.code, c.until, c.tries = string(raw), c.Now().Add(codeHolds), 0
	return c.code
}

// Current is the code that holds, and until when; "" for none.
func (c *Codes) Current() (code string, until time.Time) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if !c.holds() {
		return "", time.Time{}
	}
	return c.code, c.until
}

// Void makes the present code worthless.
func (c *Codes) Void() {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.code = ""
}

func (c *Codes) holds() bool { return c.code != "" && c.Now().Before(c.until) && c.tries < codeTries }

// Use takes a code as typed. The right one is used up by it.
func (c *Codes) Use(typed string) error {
	c.mu.Lock()
	defer c.mu.Unlock()
	if !c.holds() {
		return ErrCodeVoid
	}
	if subtle.ConstantTimeCompare([]byte(plainCode(typed)), []byte(c.code)) != 1 {
		if c.tries++; !c.holds() {
			return ErrCodeVoid
		}
		return fmt.Errorf("%w: %d more tries", ErrCodeWrong, codeTries-c.tries)
	}
	c.code = ""
	return nil
}

// SpelledCode is a code in two halves, to be read out and typed.
func SpelledCode(code string) string { return code[:len(code)/2] + " " + code[len(code)/2:] }

// plainCode drops what people put between the signs.
func plainCode(typed string) string {
	return strings.ToUpper(strings.NewReplacer(" ", "", "-", "", "\u00a0", "").Replace(typed))
}

const tokenBytes = 32

// PairPhone keeps a phone under a name and returns the token that it shows from
// then on. Only the token's hash is kept.
func (d *Desk) PairPhone(name string) (token string, err error) {
	if d.file == nil {
		return "", errors.New("this garden is only shown, not kept: phones are paired with a garden of your own")
	}
	name = strings.Join(strings.Fields(name), " ")
	const longest = 40
	if name == "" || utf8.RuneCountInString(name) > longest {
		return "", fmt.Errorf("give the phone a name of at most %d letters", longest)
	}
	raw := make([]byte, tokenBytes)
	_, _ = rand.Read(raw)
	token = base64.RawURLEncoding.EncodeToString(raw)
	return token, d.file.AddPhone(context.Background(), name, tokenHash(token), d.now())
}

func tokenHash(token string) string {
	sum := sha256.Sum256([]byte(token))
	return hex.EncodeToString(sum[:])
}

// seenEvery is how often a phone's last visit is noted.
const seenEvery = time.Hour

// KnowsPhone says whether a token is that of a paired phone.
func (d *Desk) KnowsPhone(token string) (bool, error) {
	if d.file == nil || token == "" {
		return false, nil
	}
	ctx := context.Background()
	phone, err := d.file.PhoneOf(ctx, tokenHash(token))
	if store.KindOf(err) == store.Missing {
		return false, nil
	}
	if err != nil {
		return false, err
	}
	if d.now().Sub(phone.SeenAt) > seenEvery {
		_ = d.file.PhoneSeen(ctx, phone.ID, d.now()) // only told to people; nobody is kept out for it
	}
	return true, nil
}

// Phones lists the phones that are paired.
func (d *Desk) Phones() ([]store.Phone, error) {
	if d.file == nil {
		return nil, nil
	}
	return d.file.Phones(context.Background())
}

// ForgetPhone takes a phone's leave away.
func (d *Desk) ForgetPhone(id int64) error {
	if d.file == nil {
		return errNotKept
	}
	return d.file.RemovePhone(context.Background(), id)
}

// HomePort is the port on which the pages were last opened in the home network;
// 0 for none. KeepHomePort keeps it, so that a phone's bookmark stays right.
func (d *Desk) HomePort() int {
	if d.file == nil {
		return 0
	}
	text, err := d.file.Setting(context.Background(), homePortSetting)
	port := 0
	if err == nil {
		_, _ = fmt.Sscan(text, &port)
	}
	return port
}

// KeepHomePort keeps the port of the home network.
func (d *Desk) KeepHomePort(port int) error {
	if d.file == nil {
		return errNotKept
	}
	return d.file.SetSetting(context.Background(), homePortSetting, fmt.Sprint(port))
}

const homePortSetting = "home.port"

// Now is the time that the desk goes by.
func (d *Desk) Now() time.Time { return d.now() }
