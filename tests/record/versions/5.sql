-- A record as version 5 of its tables left it; never to be changed.
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
INSERT INTO "_sqlite_migrations" VALUES(3,'fretsure','0003_learners_and_landings','2026-01-05 08:00:00+00:00');
INSERT INTO "_sqlite_migrations" VALUES(4,'fretsure','0004_names','2026-01-05 08:00:00+00:00');
INSERT INTO "_sqlite_migrations" VALUES(5,'fretsure','0005_views','2026-01-05 08:00:00+00:00');
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
            correct INTEGER CHECK (correct IN (0, 1)),
            mixup TEXT,
            thinking_ms INTEGER,
            target_ms INTEGER NOT NULL,
            how TEXT NOT NULL CHECK (how IN ('typed', 'played', 'self-checked')),
            learner TEXT CHECK (learner <> ''),
            crc INTEGER NOT NULL
        ) STRICT
        ;
INSERT INTO "attempt" VALUES(1,'uid-0001','drill-1','note-at-fret:string=6:fret=8','note-at-fret','two-shapes','asked',1767600003000,1767600005100,60,'C',1,NULL,1400,2400,'typed','ana',618331669);
INSERT INTO "attempt" VALUES(2,'uid-0002','drill-1','note-at-fret:string=6:fret=8','note-at-fret','two-shapes','asked',1767600006000,1767600008100,60,'b flat',0,'one fret off',1400,2400,'played','ana',4059833742);
INSERT INTO "attempt" VALUES(3,'uid-0003','drill-1','note-at-fret:string=6:fret=8','note-at-fret','two-shapes','shown',1767600009000,1767600011100,60,'',NULL,NULL,NULL,2400,'typed',NULL,1356306239);
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
CREATE TABLE landing (
            id INTEGER PRIMARY KEY AUTOINCREMENT,
            uid TEXT NOT NULL UNIQUE CHECK (uid <> ''),
            drill TEXT NOT NULL REFERENCES drill (id),
            key TEXT NOT NULL CHECK (key <> ''),
            asked_at INTEGER NOT NULL,
            how TEXT NOT NULL CHECK (how IN ('heard', 'self-checked')),
            landed INTEGER CHECK (landed IN (0, 1)),
            late_ms INTEGER,
            heard TEXT CHECK (heard <> ''),
            path_ms INTEGER CHECK (path_ms >= 0),
            learner TEXT CHECK (learner <> ''),
            crc INTEGER NOT NULL,
            CHECK (how = 'heard' OR (landed IS NOT NULL AND late_ms IS NULL AND heard IS NULL AND path_ms IS NULL))
        ) STRICT
        ;
INSERT INTO "landing" VALUES(1,'landing-1','drill-1','Bb',1767600100000,'heard',1,-35,'Bb3',12,'ana',833393895);
INSERT INTO "landing" VALUES(2,'landing-2','drill-1','F#m',1767600110000,'self-checked',0,NULL,NULL,NULL,'ana',3451183642);
CREATE TABLE owner (
            single INTEGER PRIMARY KEY CHECK (single = 1),
            learner TEXT NOT NULL CHECK (learner <> '')
        , name TEXT) STRICT
        ;
INSERT INTO "owner" VALUES(1,'ana',NULL);
CREATE TABLE state (name TEXT PRIMARY KEY NOT NULL, value TEXT NOT NULL) STRICT;
INSERT INTO "state" VALUES('learner','{"seen": 3}');
CREATE UNIQUE INDEX "idx__sqlite_migrations_migration_set_name"
    ON "_sqlite_migrations" ("migration_set", "name");
CREATE INDEX attempt_by_time ON attempt (asked_at, uid);
CREATE INDEX attempt_by_card ON attempt (card, asked_at, uid);
CREATE INDEX landing_by_time ON landing (asked_at, uid);
CREATE VIEW drills AS SELECT
            id,
            strftime('%Y-%m-%dT%H:%M:%fZ', started_at / 1000.0, 'unixepoch') AS started_at,
            strftime('%Y-%m-%dT%H:%M:%fZ', ended_at / 1000.0, 'unixepoch') AS ended_at,
            deck, minutes, focus, tuning
        FROM drill ORDER BY drill.started_at, id;
CREATE VIEW answers AS SELECT
            uid, drill, card, family, deck, kind,
            strftime('%Y-%m-%dT%H:%M:%fZ', asked_at / 1000.0, 'unixepoch') AS asked_at,
            strftime('%Y-%m-%dT%H:%M:%fZ', answered_at / 1000.0, 'unixepoch') AS answered_at,
            strftime('%Y-%m-%d', asked_at / 1000.0 + 60 * utc_offset_min, 'unixepoch') AS day,
            given, correct, mixup, thinking_ms, target_ms, how, learner
        FROM attempt ORDER BY attempt.asked_at, uid;
CREATE VIEW landings AS SELECT
            uid, drill, key,
            strftime('%Y-%m-%dT%H:%M:%fZ', asked_at / 1000.0, 'unixepoch') AS asked_at,
            how, landed, late_ms, heard, path_ms, learner
        FROM landing ORDER BY landing.asked_at, uid;
DELETE FROM "sqlite_sequence";
INSERT INTO "sqlite_sequence" VALUES('attempt',3);
INSERT INTO "sqlite_sequence" VALUES('landing',2);
COMMIT;
