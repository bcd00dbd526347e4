-- A record as version 2 of its tables left it; never to be changed.
PRAGMA application_id = 1181902196;
BEGIN TRANSACTION;
CREATE TABLE "_sqlite_migrations" (
   "id" INTEGER PRIMARY KEY,
   "migration_set" TEXT,
   "name" TEXT,
   "applied_at" TEXT
);
INSERT INTO "_sqlite_migrations" VALUES(1,'fretsure','0001_tables','2026-01-05 08:00:00+00:00');
INSERT INTO "_sqlite_migrations" VALUES(2,'fretsure','0002_order_and_cards','2026-01-05 08:00:00+00:00');
CREATE TABLE attempt (
            id INTEGER PRIMARY KEY AUTOINCREMENT,
            uid TEXT NOT NULL UNIQUE CHECK (uid <> ''),
            drill TEXT NOT NULL REFERENCES drill (id),
            card TEXT NOT NULL,
            family TEXT NOT NULL,
            deck TEXT NOT NULL,
            kind TEXT NOT NULL CHECK (kind IN ('asked', 'shown')),
            asked_at INTEGER NOT NULL,
            answered_at INTEGER NOT NULL,
            utc_offset_min INTEGER NOT NULL,
            given TEXT NOT NULL,
            "right" INTEGER CHECK ("right" IN (0, 1)),
            mixup TEXT,
            thinking_ms INTEGER,
            target_ms INTEGER NOT NULL,
            crc INTEGER NOT NULL
        ) STRICT
        ;
INSERT INTO "attempt" VALUES(1,'uid-0001','drill-1','note-at-fret:string=6:fret=8','note-at-fret','two-shapes','asked',1767600003000,1767600005100,60,'C',1,NULL,1400,2400,2857913465);
INSERT INTO "attempt" VALUES(2,'uid-0002','drill-1','note-at-fret:string=6:fret=8','note-at-fret','two-shapes','asked',1767600006000,1767600008100,60,'b flat',0,'one fret off',1400,2400,2435608552);
INSERT INTO "attempt" VALUES(3,'uid-0003','drill-1','note-at-fret:string=6:fret=8','note-at-fret','two-shapes','shown',1767600009000,1767600011100,60,'',NULL,NULL,NULL,2400,1356306239);
CREATE TABLE drill (
            id TEXT PRIMARY KEY NOT NULL,
            started_at INTEGER NOT NULL,
            ended_at INTEGER,
            deck TEXT NOT NULL,
            minutes INTEGER NOT NULL,
            focus TEXT NOT NULL,
            tuning TEXT NOT NULL,
            seed INTEGER
        ) STRICT
        ;
INSERT INTO "drill" VALUES('drill-1',1767600000000,1767600300000,'two-shapes',5,'{"string": [6]}','standard',42);
CREATE TABLE state (name TEXT PRIMARY KEY NOT NULL, value TEXT NOT NULL) STRICT;
INSERT INTO "state" VALUES('learner','{"seen": 3}');
CREATE UNIQUE INDEX "idx__sqlite_migrations_migration_set_name"
    ON "_sqlite_migrations" ("migration_set", "name");
CREATE INDEX attempt_by_time ON attempt (asked_at, uid);
CREATE INDEX attempt_by_card ON attempt (card, asked_at, uid);
DELETE FROM "sqlite_sequence";
INSERT INTO "sqlite_sequence" VALUES('attempt',3);
COMMIT;
