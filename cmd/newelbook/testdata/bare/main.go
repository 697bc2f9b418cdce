// Command bare is the least program of the same make: one gin route that asks gorm for a count in a SQLite file. Benchmarks
// hold the start and the memory of newelbook against it.
package main

import (
	"fmt"
	"log"
	"net"
	"net/http"
	"os"

	"github.com/gin-gonic/gin"
	"gorm.io/driver/sqlite"
	"gorm.io/gorm"
	_ "modernc.org/sqlite" // the driver that newelbook has
)

type note struct {
	ID   uint
	Text string
}

func main() {
	if err := serve(os.Args[1]); err != nil {
		log.Fatal(err)
	}
}

func serve(file string) error {
	db, err := gorm.Open(sqlite.Dialector{DriverName: "sqlite", DSN: "file:" + file + "?_pragma=journal_mode(WAL)"}, &gorm.Config{})
	if err != nil {
		return err
	}
	if err := db.AutoMigrate(&note{}); err != nil {
		return err
	}
	gin.SetMode(gin.ReleaseMode)
	engine := gin.New()
	engine.GET("/sign-in", func(c *gin.Context) {
		var n int64
		if err := db.Model(&note{}).Count(&n).Error; err != nil {
			c.String(http.StatusInternalServerError, err.Error())
			return
		}
		c.String(http.StatusOK, "%d notes\n", n)
	})
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return err
	}
	fmt.Printf("serves %s at http://%s\n", file, listener.Addr())
	return http.Serve(listener, engine)
}
