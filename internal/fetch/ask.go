package fetch

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"strconv"
	"strings"
	"time"

	"kailyard/internal/civil"
	"kailyard/internal/weather"
)

const (
	userAgent  = "kailyard (plans vegetable gardens; asks for the daily weather of one place)"
	mostBytes  = 4 << 20 // of one answer: a year of one place is about 20 kB
	mostTries  = 4       // of one year
	oneRequest = 3 * time.Minute
	firstWord  = 90 * time.Second // until an answer begins
	longest    = 15 * time.Minute // the longest wait a service may ask for before the run ends
)

// asker asks for one year after the other.
type asker struct {
	*Fetcher
	request Request
	asked   bool // something was asked for in this run: pause before the next
	reached bool // the service has answered in this run
}

// failure is one try that failed.
type failure struct {
	err   *Error
	wait  time.Duration // as the service asks; 0: our own rule
	again bool          // worth another try
}

// year asks for a year until it is there, as often as is decent.
func (a *asker) year(ctx context.Context, year int) (weather.Piece, error) {
	from := civil.Of(year, 1, 1)
	to := min(civil.Of(year, 12, 31), a.Today.Add(-a.request.Service.Late))
	for try := 1; ; try++ {
		if err := a.pause(ctx); err != nil {
			return weather.Piece{}, err
		}
		record, f := a.try(ctx, from, to)
		if f == nil {
			return weather.Piece{Service: a.request.Service.ID, Place: a.request.place(), Year: year, Asked: a.Today, Until: to, Record: record}, nil
		}
		if err := ctx.Err(); err != nil {
			return weather.Piece{}, err
		}
		wait := f.wait
		if wait == 0 {
			wait = backOff(f.err.Kind, try)
		}
		if !f.again || try == mostTries || wait > longest {
			return weather.Piece{}, f.err
		}
		a.tell(Progress{Year: year, Waiting: wait, Why: f.err.Says})
		if err := a.sleep(ctx, wait); err != nil {
			return weather.Piece{}, err
		}
	}
}

// backOff is how long to wait after a try that failed, where the service does not say: a minute
// where it counts requests, for the counters are kept by the minute (OPEN-METEO), else less.
func backOff(kind Kind, try int) time.Duration {
	first := 5 * time.Second
	if kind == Busy {
		first = 20 * time.Second
	}
	return first << (2 * (try - 1)) // 5, 20, 80 s; 20, 80, 320 s
}

// pause keeps requests apart.
func (a *asker) pause(ctx context.Context) error {
	if a.asked {
		return a.sleep(ctx, a.request.Service.Pause)
	}
	a.asked = true
	return ctx.Err()
}

func (a *asker) sleep(ctx context.Context, d time.Duration) error {
	if a.Sleep != nil {
		return a.Sleep(ctx, d)
	}
	timer := time.NewTimer(d)
	defer timer.Stop()
	select {
	case <-ctx.Done():
		return ctx.Err()
	case <-timer.C:
		return nil
	}
}

// try makes one request.
func (a *asker) try(ctx context.Context, from, to civil.Date) (*weather.Record, *failure) {
	request, err := http.NewRequestWithContext(ctx, http.MethodGet, a.address(a.request, from, to), nil)
	if err != nil {
		return nil, &failure{err: &Error{Kind: Misplaced, Says: "the service's address cannot be written: " + err.Error(), Cause: err}}
	}
	request.Header.Set("User-Agent", userAgent)
	request.Header.Set("Accept", "text/csv, application/json;q=0.9, text/plain;q=0.5")
	answer, err := a.client().Do(request)
	if err != nil {
		return nil, a.unreachable(err)
	}
	defer answer.Body.Close()
	a.reached = true
	body, err := io.ReadAll(io.LimitReader(answer.Body, mostBytes+1))
	name := a.request.Service.Name
	switch {
	case len(body) > mostBytes:
		return nil, &failure{err: &Error{Kind: TooLarge, Says: fmt.Sprintf("%s sends more than %d MB for one year of one place", name, mostBytes>>20), Remedy: "the service may have changed: try another, or download a file by hand"}}
	case answer.StatusCode != http.StatusOK:
		return nil, a.refused(answer, body)
	case err != nil:
		return nil, &failure{again: true, err: &Error{Kind: CutOff, Says: fmt.Sprintf("the answer of %s ended in the middle", name), Remedy: "try again later", Cause: err}}
	}
	return a.read(body, from, to)
}

func (a *asker) client() *http.Client {
	if a.HTTP != nil {
		return a.HTTP
	}
	transport := http.DefaultTransport.(*http.Transport).Clone()
	transport.ResponseHeaderTimeout = firstWord
	a.HTTP = &http.Client{Transport: transport, Timeout: oneRequest, CheckRedirect: sameCare}
	return a.HTTP
}

// sameCare follows a few redirections, none that leaves encryption.
func sameCare(next *http.Request, before []*http.Request) error {
	if len(before) > 4 {
		return errors.New("sent on too often")
	}
	if next.URL.Scheme != "https" && before[0].URL.Scheme == "https" {
		return errors.New("sent on to an address without encryption")
	}
	return nil
}

// unreachable tells an absent network from a slow or failing one. Where no connection came about in
// this run, trying again at once is of no use.
func (a *asker) unreachable(err error) *failure {
	name := a.request.Service.Name
	var dns *net.DNSError
	var dial *net.OpError
	var timeout net.Error
	cause := err
	for inner := err; inner != nil; inner = errors.Unwrap(inner) {
		cause = inner // the innermost says it without the address asked for
	}
	why := cause.Error()
	if errors.As(err, &dns) {
		why = "no address is found for " + dns.Name
	}
	switch {
	case dns != nil, errors.As(err, &dial) && dial.Op == "dial":
		return &failure{again: a.reached, err: &Error{
			Kind: Offline, Says: fmt.Sprintf("%s cannot be reached (%s)", name, why), Cause: err,
			Remedy: "check the network; a file downloaded elsewhere serves as well (kailyard weather FILE)",
		}}
	case errors.As(err, &timeout) && timeout.Timeout():
		return &failure{again: true, err: &Error{Kind: Busy, Says: name + " does not answer in time", Remedy: "try again later", Cause: err}}
	}
	return &failure{again: true, err: &Error{Kind: Offline, Says: fmt.Sprintf("the connection to %s failed (%s)", name, why), Remedy: "check the network and try again", Cause: err}}
}

// refused sorts the answers that are not data.
func (a *asker) refused(answer *http.Response, body []byte) *failure {
	name, why := a.request.Service.Name, reason(body)
	told := ""
	if why != "" {
		told = ": " + why
	}
	wait := retryAfter(answer.Header.Get("Retry-After"), answer.Header.Get("Date"))
	switch code := answer.StatusCode; {
	case code == http.StatusTooManyRequests:
		lower := strings.ToLower(why)
		again := !strings.Contains(lower, "hour") && !strings.Contains(lower, "daily") && !strings.Contains(lower, "tomorrow")
		return &failure{again: again, wait: wait, err: &Error{Kind: Busy, Wait: wait, Says: fmt.Sprintf("%s asks to come again later, too many requests came from here%s", name, told), Remedy: "run the same command " + later(wait)}}
	case code >= 500 || code == http.StatusRequestTimeout:
		return &failure{again: true, wait: wait, err: &Error{Kind: Busy, Wait: wait, Says: fmt.Sprintf("%s has trouble of its own (%s)%s", name, answer.Status, told), Remedy: "run the same command " + later(wait)}}
	case code == http.StatusNotFound || code == http.StatusGone:
		return &failure{err: &Error{Kind: Changed, Says: fmt.Sprintf("%s is not where it was (%s)", name, answer.Status), Remedy: "the service may have moved: try another, or download a file by hand"}}
	}
	if told == "" {
		told = " (" + answer.Status + ")"
	}
	return &failure{err: &Error{Kind: Refused, Says: fmt.Sprintf("%s refused the request for %s%s", name, a.request.where(), told), Remedy: "check the site's coordinates, or the station and the years"}}
}

// later says when to come again.
func later(wait time.Duration) string {
	switch {
	case wait >= 2*time.Hour:
		return fmt.Sprintf("in %.0f hours", wait.Hours())
	case wait >= time.Minute:
		return fmt.Sprintf("in %.0f minutes", wait.Minutes())
	}
	return "later"
}

// retryAfter reads the header of that name: seconds, or a date that is set against the server's own.
// It is 0 where there is none. Source: RFC-9110, section 10.2.3.
func retryAfter(value, now string) time.Duration {
	value = strings.TrimSpace(value)
	if seconds, err := strconv.Atoi(value); err == nil {
		return time.Duration(min(max(seconds, 1), 1<<20)) * time.Second
	}
	until, err := http.ParseTime(value)
	if err != nil {
		return 0
	}
	from, err := http.ParseTime(now)
	if err != nil {
		return 0
	}
	return max(until.Sub(from), time.Second)
}
