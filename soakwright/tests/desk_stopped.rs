//! A user's promise: a desk that is killed in the midst of saving, or whose disk is full, loses nothing.
//!
//! The desk is the real program. The room on the disk is taken by the limit of the system on the size of a file.
#![cfg(unix)]

use std::fs;
use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;

const JOB: &str = include_str!("../../jobs/carbon-steel-line.toml");

/// The largest file of a small disk, in bytes; the shell counts in blocks of 512 or 1024.
const SMALL: usize = 512 * 1024;

/// A desk in a process of its own.
struct Desk {
    process: Child,
    address: String,
    cookie: String,
    token: String,
}

struct Answer {
    status: u16,
    head: String,
    body: String,
}

impl Desk {
    fn on(project: &Path) -> Desk {
        let mut command = Command::new(env!("CARGO_BIN_EXE_soakwright"));
        command.args(["desk", "--port", "0"]).arg(project);
        Desk::started(command)
    }

    /// On a disk on which no file becomes larger than [`SMALL`].
    fn on_a_full_disk(project: &Path) -> Desk {
        let limits = "trap '' XFSZ; ulimit -f $2; exec \"$0\" desk --port 0 \"$1\"";
        let mut command = Command::new("bash");
        command
            .args(["-c", limits, env!("CARGO_BIN_EXE_soakwright")])
            .arg(project)
            .arg((SMALL / 1024).to_string());
        Desk::started(command)
    }

    fn started(mut command: Command) -> Desk {
        let mut process = command
            .stdout(Stdio::piped())
            .spawn()
            .expect("the desk runs");
        let out = process.stdout.take().expect("its words");
        let address = BufReader::new(out)
            .lines()
            .map_while(Result::ok)
            .find_map(|line| {
                let after = line.split("http://").nth(1)?;
                let end = after.find(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | ':')));
                Some(after[..end.unwrap_or(after.len())].to_owned())
            })
            .expect("it says where it is");
        let mut desk = Desk {
            process,
            address,
            cookie: String::new(),
            token: String::new(),
        };
        let board = desk.send("GET", "/", "", b"").expect("the board");
        assert_eq!(board.status, 200, "{}", board.body);
        desk.cookie = within(&board.head, "set-cookie: ", ";");
        desk.token = within(&board.body, "name=\"desk-token\" content=\"", "\"");
        desk
    }

    /// One request on a connection of its own; `None` where the desk is gone.
    fn send(&self, method: &str, path: &str, headers: &str, body: &[u8]) -> Option<Answer> {
        send(&self.at(), method, path, headers, body)
    }

    fn at(&self) -> [String; 3] {
        [&self.address, &self.cookie, &self.token].map(Clone::clone)
    }

    fn kill(mut self) {
        self.process.kill().expect("killed");
        self.process.wait().expect("gone");
    }
}

impl Drop for Desk {
    fn drop(&mut self) {
        let _ = self.process.kill();
        let _ = self.process.wait();
    }
}

fn send(
    [address, cookie, token]: &[String; 3],
    method: &str,
    path: &str,
    headers: &str,
    body: &[u8],
) -> Option<Answer> {
    let mut stream = TcpStream::connect(address).ok()?;
    let head = format!(
        "{method} {path} HTTP/1.1\r\nhost: {address}\r\norigin: http://{address}\r\ncookie: {cookie}\r\n\
         x-desk-token: {token}\r\n{headers}content-length: {}\r\nconnection: close\r\n\r\n",
        body.len()
    );
    stream.write_all(head.as_bytes()).ok()?;
    stream.write_all(body).ok()?;
    let mut answer = Vec::new();
    stream.read_to_end(&mut answer).ok()?;
    let answer = String::from_utf8_lossy(&answer).into_owned();
    let (head, body) = answer.split_once("\r\n\r\n")?;
    Some(Answer {
        status: head.split(' ').nth(1)?.parse().ok()?,
        head: head.to_owned(),
        body: body.to_owned(),
    })
}

fn within(text: &str, before: &str, after: &str) -> String {
    let rest = text.split(before).nth(1).unwrap_or_default();
    rest.split(after).next().unwrap_or_default().to_owned()
}

fn project(name: &str) -> PathBuf {
    let project = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    let _ = fs::remove_dir_all(&project);
    fs::create_dir_all(project.join("W1")).expect("a folder");
    fs::write(project.join("W1/job.toml"), JOB).expect("written");
    project
}

fn names(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).into_iter().flatten().flatten();
    let mut names: Vec<String> = entries
        .filter_map(|entry| entry.file_name().into_string().ok())
        .collect();
    names.sort();
    names
}

/// The job file of a save: long enough that writing it takes its time, and different in every save.
fn job_text(save: usize) -> String {
    format!("{JOB}\n{}", format!("# save {save}\n").repeat(20_000))
}

/// Saves the job file again and again until the desk is gone; counts in `saves`.
fn save_on(at: &[String; 3], saves: &AtomicUsize) {
    let mut tag = match send(at, "GET", "/weld/W1/job.toml", "", b"") {
        Some(answer) => within(&answer.head, "etag: ", "\r"),
        None => return,
    };
    loop {
        let text = job_text(saves.load(Ordering::Relaxed) + 1);
        let read = format!("if-match: {tag}\r\n");
        match send(at, "PUT", "/weld/W1/job.toml", &read, text.as_bytes()) {
            Some(answer) if answer.status == 204 => tag = within(&answer.head, "etag: ", "\r"),
            _ => return,
        }
        saves.fetch_add(1, Ordering::Relaxed);
    }
}

const LOG_ROWS: usize = 100_000;

fn log_text() -> String {
    "2026-10-20 07:30,19.9,20.2\n".repeat(LOG_ROWS)
}

/// Brings logs again and again until the desk is gone.
fn bring_on(at: &[String; 3], round: usize, brought: &AtomicUsize) {
    let log = log_text();
    loop {
        let name = format!(
            "/weld/W1/logs/log-{round}-{}.csv",
            brought.load(Ordering::Relaxed)
        );
        match send(at, "PUT", &name, "", log.as_bytes()) {
            Some(answer) if answer.status == 201 => brought.fetch_add(1, Ordering::Relaxed),
            _ => return,
        };
    }
}

#[test]
fn a_desk_killed_in_the_midst_of_saves_leaves_whole_files_and_starts_again() {
    let project = project("desk-killed");
    let mut said_to_be_kept = 0;
    for round in 0..6 {
        let desk = Desk::on(&project);
        let logs = names(&project.join("W1/logs"));
        assert!(
            logs.iter().all(|name| !name.starts_with('.')),
            "what was left half-written is gone: {logs:?}"
        );
        let counts = [0; 2].map(|_| Arc::new(AtomicUsize::new(0)));
        let [saves, brought] = counts.clone();
        let [one, other] = [desk.at(), desk.at()];
        let writers = [
            thread::spawn(move || save_on(&one, &saves)),
            thread::spawn(move || bring_on(&other, round, &brought)),
        ];
        // At another moment of a save and of a log each time.
        while counts
            .iter()
            .any(|count| count.load(Ordering::Relaxed) < 1 + round % 3)
        {
            thread::yield_now();
        }
        for _ in 0..round * 20_000 {
            std::hint::spin_loop();
        }
        desk.kill();
        for writer in writers {
            writer.join().expect("it stops when the desk is gone");
        }
        let [saves, brought] = counts.map(|count| count.load(Ordering::Relaxed));
        let now = fs::read_to_string(project.join("W1/job.toml")).expect("a job file");
        // The last save may have been done and not been answered.
        assert!(
            (saves..=saves + 1).any(|save| now == job_text(save)),
            "round {round}: neither of the last two saves"
        );
        said_to_be_kept += brought;
        let whole: Vec<String> = names(&project.join("W1/logs"))
            .into_iter()
            .filter(|name| !name.starts_with('.'))
            .collect();
        assert!(
            whole.len() >= said_to_be_kept,
            "a log that was kept is lost"
        );
        for name in &whole {
            let length = fs::metadata(project.join("W1/logs").join(name)).map(|meta| meta.len());
            assert_eq!(length.expect("a log") as usize, log_text().len(), "{name}");
        }
        said_to_be_kept = whole.len();
    }
    let desk = Desk::on(&project);
    let board = desk.send("GET", "/", "", b"").expect("the board");
    assert!(board.body.contains("W1"), "{}", board.body);
    let inside = names(&project.join("W1"));
    assert!(
        inside.iter().all(|name| !name.ends_with(".part")),
        "{inside:?}"
    );
}

#[test]
fn a_full_disk_is_told_and_nothing_is_lost() {
    let project = project("desk-full");
    let desk = Desk::on_a_full_disk(&project);
    let tag = within(
        &desk
            .send("GET", "/weld/W1/job.toml", "", b"")
            .expect("read")
            .head,
        "etag: ",
        "\r",
    );
    let large = format!("{JOB}\n{}", "# more\n".repeat(SMALL / 5));
    let read = format!("if-match: {tag}\r\n");
    let save = desk.send("PUT", "/weld/W1/job.toml", &read, large.as_bytes());
    let save = save.expect("an answer");
    assert_eq!(save.status, 507, "{}", save.body);
    assert!(save.body.contains("the disk is full"), "{}", save.body);
    assert!(save.body.contains("nothing was changed"), "{}", save.body);
    let kept = fs::read_to_string(project.join("W1/job.toml"));
    assert_eq!(kept.expect("there"), JOB);
    let log = log_text();
    let bring = desk.send("PUT", "/weld/W1/logs/log.csv", "", log.as_bytes());
    let bring = bring.expect("the answer comes though the log was not taken");
    assert_eq!(bring.status, 507, "{}", bring.body);
    assert!(bring.body.contains("the disk is full"), "{}", bring.body);
    assert_eq!(names(&project.join("W1/logs")), [""; 0]);
    let inside = names(&project.join("W1"));
    assert!(
        inside.iter().all(|name| !name.ends_with(".part")),
        "{inside:?}"
    );
    // What has room goes on.
    let small = desk.send("PUT", "/weld/W1/logs/small.csv", "", b"time,TC1\n");
    assert_eq!(small.expect("an answer").status, 201);
    let save = desk.send(
        "PUT",
        "/weld/W1/job.toml",
        &read,
        format!("{JOB}\n").as_bytes(),
    );
    assert_eq!(save.expect("an answer").status, 204);
}
