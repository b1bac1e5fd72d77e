//! The fenced blocks of a Markdown page, each with its line.

/// What stands in an invisible comment where the rules of the blocks before are put away
const START_ANEW: &str = "<!-- start anew -->";

/// One fenced block
#[derive(Debug)]
pub struct Block {
    /// Line of the page its first line stands on, from 1
    pub line: usize,
    /// What stands behind the fence: its sort, then words on it
    pub info: String,
    /// Its lines
    pub lines: Vec<String>,
    /// The rules of the blocks before it are put away first
    pub anew: bool,
}

impl Block {
    /// The first word behind the fence
    pub fn sort(&self) -> &str {
        self.info.split(' ').next().unwrap_or("")
    }

    /// The second word behind the fence: `wrong` where the block is dropped again, `doubtful` where it is kept
    pub fn word(&self) -> &str {
        self.info.split(' ').nth(1).unwrap_or("")
    }

    /// The codes of the problems that must come, and no others
    pub fn codes(&self) -> Vec<String> {
        self.info.split(' ').skip(2).map(str::to_owned).collect()
    }

    /// Whether what stands behind the fence is one of the sorts that are followed
    pub fn is_known(&self) -> bool {
        match (self.sort(), self.word()) {
            ("rules" | "case", "wrong") | ("rules", "doubtful") => !self.codes().is_empty(),
            ("case" | "console" | "message" | "reckon" | "result" | "rules", word) => word.is_empty(),
            _ => false,
        }
    }

    /// Its text
    pub fn text(&self) -> String {
        self.lines.iter().map(|line| format!("{line}\n")).collect()
    }

    /// Its lines that hold something, each with its line on the page
    pub fn numbered(&self) -> impl Iterator<Item = (usize, &str)> {
        let lines = self.lines.iter().enumerate().map(|(number, line)| (self.line + number, line.trim()));
        lines.filter(|(_, line)| !line.is_empty())
    }
}

/// All fenced blocks of a page
pub fn blocks(text: &str) -> Vec<Block> {
    let mut blocks: Vec<Block> = Vec::new();
    let mut open = false;
    let mut anew = false;
    for (number, line) in text.lines().enumerate() {
        match (open, line.strip_prefix("```")) {
            (true, Some("")) => open = false,
            (true, _) => blocks.last_mut().unwrap().lines.push(line.to_owned()),
            (false, Some(info)) => {
                let info = info.trim().to_owned();
                blocks.push(Block { line: number + 2, info, lines: Vec::new(), anew });
                (open, anew) = (true, false);
            }
            (false, None) => anew |= line == START_ANEW,
        }
    }
    assert!(!open, "a block is not closed");
    blocks
}
