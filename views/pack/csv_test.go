package pack_test

import (
	"encoding/csv"
	"reflect"
	"strings"
	"testing"

	"newelbook/views/pack"
)

func TestWriteCSV(t *testing.T) {
	head := []string{"check", "measured", "note"}
	rows := [][]string{{"R1-B2", "3 15/16 in", "plain"}, {"", "", ""}, {`says "good"`, "a,b", "two\r\nlines"}, {" blank", "blank ", "é"}}
	var b strings.Builder
	if err := pack.WriteCSV(&b, head, rows); err != nil {
		t.Fatal(err)
	}
	want := "check,measured,note\r\nR1-B2,3 15/16 in,plain\r\n,,\r\n" +
		"\"says \"\"good\"\"\",\"a,b\",\"two\r\nlines\"\r\n\" blank\",\"blank \",é\r\n"
	if b.String() != want {
		t.Errorf("wrote %q, want %q", b.String(), want)
	}
	back, err := csv.NewReader(strings.NewReader(b.String())).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	rows[2][2] = "two\nlines" // the standard reader's own choice
	if !reflect.DeepEqual(back, append([][]string{head}, rows...)) {
		t.Errorf("read back %q", back)
	}
}

func TestWriteCSVRefusesShortRow(t *testing.T) {
	if err := pack.WriteCSV(&strings.Builder{}, []string{"a", "b"}, [][]string{{"1"}}); err == nil {
		t.Error("a short row was written")
	}
}
