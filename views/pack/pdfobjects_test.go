package pack_test

import (
	"encoding/base64"
	"encoding/json"
	"os/exec"
	"strconv"
	"strings"
	"testing"
)

// objects are those of a PDF as qpdf reads them, which shares no code with what wrote them: names begin with a slash, references end
// in R, text begins with u: and other strings with b:.
type objects struct {
	t       testing.TB
	trailer map[string]any
	all     map[string]object
}

// object is a value, and the bytes of a stream with all filters but those of pictures undone.
type object struct {
	value any
	data  []byte
}

func objectsOf(t testing.TB, path string) objects {
	t.Helper()
	if _, err := exec.LookPath("qpdf"); err != nil {
		tool(t, "qpdf") // skips or fails
	}
	var file struct{ QPDF []map[string]json.RawMessage }
	text := tool(t, "qpdf", "--json=2", "--json-stream-data=inline", "--decode-level=generalized", path)
	if err := json.Unmarshal([]byte(text), &file); err != nil || len(file.QPDF) != 2 {
		t.Fatalf("qpdf --json: %v, %d parts", err, len(file.QPDF))
	}
	out := objects{t: t, all: map[string]object{}}
	for key, raw := range file.QPDF[1] {
		var o struct {
			Value  any
			Stream *struct {
				Dict map[string]any
				Data string
			}
		}
		if err := json.Unmarshal(raw, &o); err != nil {
			t.Fatalf("qpdf --json: %s: %v", key, err)
		}
		switch {
		case key == "trailer":
			out.trailer = o.Value.(map[string]any)
		case o.Stream != nil:
			data, err := base64.StdEncoding.DecodeString(o.Stream.Data)
			if err != nil {
				t.Fatalf("qpdf --json: %s: %v", key, err)
			}
			out.all[strings.TrimPrefix(key, "obj:")] = object{o.Stream.Dict, data}
		default:
			out.all[strings.TrimPrefix(key, "obj:")] = object{value: o.Value}
		}
	}
	return out
}

// at follows keys from a value, and references on the way. What is not there is nil.
func (o objects) at(v any, keys ...string) any {
	for i := 0; ; i++ {
		for {
			ref, ok := v.(string)
			if !ok || !strings.HasSuffix(ref, " R") {
				break
			}
			v = o.all[ref].value
		}
		if i == len(keys) {
			return v
		}
		d, ok := v.(map[string]any)
		if !ok {
			return nil
		}
		v = d[keys[i]]
	}
}

func (o objects) catalog(keys ...string) any { return o.at(o.trailer["/Root"], keys...) }

// list is an array under keys, empty where there is none.
func (o objects) list(v any, keys ...string) []any {
	l, _ := o.at(v, keys...).([]any)
	return l
}

// body is the bytes of the stream that a reference names.
func (o objects) body(ref any) []byte {
	name, _ := ref.(string)
	return o.all[name].data
}

// dicts calls f for every dictionary of the file, however deep.
func (o objects) dicts(f func(where string, d map[string]any)) {
	var walk func(where string, v any)
	walk = func(where string, v any) {
		switch v := v.(type) {
		case map[string]any:
			f(where, v)
			for k, inner := range v {
				walk(where+k, inner)
			}
		case []any:
			for _, inner := range v {
				walk(where, inner)
			}
		}
	}
	for name, obj := range o.all {
		walk(name, obj.value)
	}
	walk("trailer", o.trailer)
}

// pages are the dictionaries of the pages, in order. The program writes one level of them.
func (o objects) pages() []map[string]any {
	var out []map[string]any
	for _, kid := range o.list(o.catalog("/Pages", "/Kids")) {
		out = append(out, o.at(kid).(map[string]any))
	}
	return out
}

// operation is one operator of a content stream with what stands before it: numbers, names with their slash, strings as their
// bytes, and the source of dictionaries; an array's members stand one after another.
type operation struct {
	name string
	args []any
}

// number is an operand.
func (op operation) number(i int) float64 {
	v, _ := op.args[i].(float64)
	return v
}

// operations reads a content stream (ISO 32000-1, 7.8.2): enough of its syntax for what stands on the pages of packs.
func operations(t testing.TB, s string) []operation {
	t.Helper()
	var out []operation
	var args []any
	for i := 0; i < len(s); {
		c := s[i]
		switch {
		case strings.IndexByte(" \t\r\n[]", c) >= 0:
			i++
		case c == '(':
			text, n := literal(s[i:])
			args, i = append(args, []byte(text)), i+n
		case strings.HasPrefix(s[i:], "<<"):
			n := i + 2
			for depth := 1; depth > 0; {
				switch {
				case s[n] == '(':
					_, skip := literal(s[n:])
					n += skip
				case strings.HasPrefix(s[n:], ">>"):
					depth, n = depth-1, n+2
				case strings.HasPrefix(s[n:], "<<"):
					depth, n = depth+1, n+2
				default:
					n++
				}
			}
			args, i = append(args, s[i:n]), n
		case c == '<':
			end := i + strings.IndexByte(s[i:], '>')
			digits := s[i+1 : end]
			if len(digits)%2 != 0 {
				t.Fatalf("a string of %d digits", len(digits))
			}
			var b []byte
			for k := 0; k < len(digits); k += 2 {
				v, err := strconv.ParseUint(digits[k:k+2], 16, 8)
				if err != nil {
					t.Fatal(err)
				}
				b = append(b, byte(v))
			}
			args, i = append(args, b), end+1
		default:
			n := i + 1
			for n < len(s) && strings.IndexByte(" \t\r\n[]()<>/", s[n]) < 0 {
				n++
			}
			word := s[i:n]
			i = n
			if v, err := strconv.ParseFloat(word, 64); err == nil {
				args = append(args, v)
			} else if word[0] == '/' {
				args = append(args, word)
			} else {
				out = append(out, operation{word, args})
				args = nil
			}
		}
	}
	return out
}

// literal is the string at the start of s between its outermost brackets, and how long it is with them.
func literal(s string) (text string, n int) {
	depth := 0
	for n < len(s) {
		switch s[n] {
		case '\\':
			n++
		case '(':
			depth++
		case ')':
			depth--
		}
		n++
		if depth == 0 {
			break
		}
	}
	return s[1 : n-1], n
}
