package pack_test

import (
	"bytes"
	"encoding/binary"
	"math"
	"os"
	"path/filepath"
	"testing"
)

// TestColourProfile makes the sRGB profile that the PDFs carry out of the figures of IEC 61966-2-1:1999 (primaries of ITU-R BT.709,
// white D65, the transfer curve of its clause 5.2) and the form of ICC.1:2001-04 (version 2). The curve and the numbers are from
// memory of those texts. The program holds the finished bytes, so that no arithmetic of another machine can change a pack.
func TestColourProfile(t *testing.T) {
	made := colourProfile()
	path := "srgb.icc"
	if *update {
		if err := os.WriteFile(path, made, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	kept, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(kept, made) {
		t.Errorf("%s is not what the published figures give: run with -update", path)
	}
	// Red, green and blue at full make the white that the profile is held against, D50, to a unit or so of its 16 bits.
	for i, want := range d50 {
		sum := 0.0
		for _, tag := range []string{"rXYZ", "gXYZ", "bXYZ"} {
			at := bytes.Index(kept[128:], []byte(tag)) + 128
			data := kept[binary.BigEndian.Uint32(kept[at+4:]):]
			sum += float64(int32(binary.BigEndian.Uint32(data[8+4*i:]))) / 65536
		}
		if math.Abs(sum-want) > 2.0/65536 {
			t.Errorf("coordinate %d of white is %.5f, want %.5f", i, sum, want)
		}
	}
}

// A second reader of the profile: poppler names nothing of it, but the test machine's exiftool reads the header and every tag.
func TestColourProfileIsRead(t *testing.T) {
	out := tool(t, "exiftool", "-G1", "-s", filepath.Join(".", "srgb.icc"))
	for _, want := range []string{"ProfileVersion                  : 2.1.0", "ColorSpaceData                  : RGB", "ProfileConnectionSpace          : XYZ",
		"ProfileDescription              : sRGB IEC61966-2.1", "ConnectionSpaceIlluminant       : 0.9642 1 0.82491", "RedTRC                          : (Binary data 2060 bytes"} {
		if !bytes.Contains([]byte(out), []byte(want)) {
			t.Errorf("exiftool does not say %q:\n%s", want, out)
		}
	}
}

var d50 = [3]float64{0.9642, 1, 0.8249} // ICC.1, the connection space's illuminant

func colourProfile() []byte {
	type matrix = [3][3]float64
	times := func(m matrix, v [3]float64) (out [3]float64) {
		for i := range m {
			for j := range v {
				out[i] += m[i][j] * v[j]
			}
		}
		return out
	}
	// from the chromaticities of the primaries and of D65
	column := func(x, y float64) [3]float64 { return [3]float64{x / y, 1, (1 - x - y) / y} }
	white := column(0.3127, 0.3290)
	prim := [3][3]float64{column(0.64, 0.33), column(0.30, 0.60), column(0.15, 0.06)}
	var cols matrix
	for i := range cols {
		for j := range prim {
			cols[i][j] = prim[j][i]
		}
	}
	share := times(inverse(cols), white)
	// Bradford's adaptation of D65 to D50
	bradford := matrix{{0.8951, 0.2664, -0.1614}, {-0.7502, 1.7135, 0.0367}, {0.0389, -0.0685, 1.0296}}
	from, to := times(bradford, white), times(bradford, d50)
	adapt := func(v [3]float64) [3]float64 {
		cone := times(bradford, v)
		for i := range cone {
			cone[i] *= to[i] / from[i]
		}
		return times(inverse(bradford), cone)
	}

	u32 := func(v uint32) []byte { return binary.BigEndian.AppendUint32(nil, v) }
	fixed := func(v float64) []byte { return u32(uint32(int32(math.Round(v * 65536)))) }
	xyz := func(v [3]float64) []byte {
		return bytes.Join([][]byte{[]byte("XYZ \x00\x00\x00\x00"), fixed(v[0]), fixed(v[1]), fixed(v[2])}, nil)
	}
	const name, right = "sRGB IEC61966-2.1", "No rights reserved: made from the published figures of IEC 61966-2-1"
	desc := bytes.Join([][]byte{[]byte("desc\x00\x00\x00\x00"), u32(uint32(len(name) + 1)), []byte(name + "\x00"), make([]byte, 4+4+2+1+67)}, nil)
	curve := append([]byte("curv\x00\x00\x00\x00"), u32(1024)...)
	for i := range 1024 {
		v := float64(i) / 1023
		if v <= 0.04045 {
			v /= 12.92
		} else {
			v = math.Pow((v+0.055)/1.055, 2.4)
		}
		curve = binary.BigEndian.AppendUint16(curve, uint16(math.Round(v*65535)))
	}
	var table, data []byte
	const tags = 9
	put := func(sigs []string, body []byte) {
		for len(body)%4 != 0 {
			body = append(body, 0)
		}
		for _, sig := range sigs {
			table = append(table, sig...)
			table = append(table, u32(uint32(128+4+12*tags+len(data)))...)
			table = append(table, u32(uint32(len(body)))...)
		}
		data = append(data, body...)
	}
	put([]string{"desc"}, desc)
	put([]string{"cprt"}, []byte("text\x00\x00\x00\x00"+right+"\x00"))
	put([]string{"wtpt"}, xyz(d50))
	for j, sig := range []string{"rXYZ", "gXYZ", "bXYZ"} {
		put([]string{sig}, xyz(adapt([3]float64{prim[j][0] * share[j], prim[j][1] * share[j], prim[j][2] * share[j]})))
	}
	put([]string{"rTRC", "gTRC", "bTRC"}, curve)

	head := make([]byte, 128)
	binary.BigEndian.PutUint32(head, uint32(128+4+len(table)+len(data)))
	binary.BigEndian.PutUint32(head[8:], 0x02100000)
	copy(head[12:], "mntrRGB XYZ ")
	for i, v := range []uint16{2026, 1, 1, 0, 0, 0} {
		binary.BigEndian.PutUint16(head[24+2*i:], v)
	}
	copy(head[36:], "acsp")
	copy(head[68:], bytes.Join([][]byte{fixed(d50[0]), fixed(d50[1]), fixed(d50[2])}, nil))
	return bytes.Join([][]byte{head, u32(tags), table, data}, nil)
}

func inverse(m [3][3]float64) (out [3][3]float64) {
	det := 0.0
	for i := range 3 {
		det += m[0][i] * (m[1][(i+1)%3]*m[2][(i+2)%3] - m[1][(i+2)%3]*m[2][(i+1)%3])
	}
	for i := range 3 {
		for j := range 3 {
			out[j][i] = (m[(i+1)%3][(j+1)%3]*m[(i+2)%3][(j+2)%3] - m[(i+1)%3][(j+2)%3]*m[(i+2)%3][(j+1)%3]) / det
		}
	}
	return out
}
