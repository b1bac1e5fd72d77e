//! Where parts stand in the picture of a side.

/// Where a part stands in the picture of a side, its front to the left
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Drawn {
    /// The wheel at the front
    FrontWheel,
    /// The wheel at the rear
    RearWheel,
    /// The driven wheel at the rear, or wherever the others leave room
    DriveWheel,
    /// The driven wheel, raised above the frame
    RaisedWheel,
    /// The hub of the driven wheel
    Hub,
    /// So many small wheels along the ground; as many as the machine has of a numbered part
    BottomRow(Option<u32>),
    /// So many small wheels beneath the top run; as many as the machine has of a numbered part
    TopRow(Option<u32>),
    /// On the frame, as a share of its length from the front
    Frame(f64),
    /// On the top run, as a share of its length from the front
    TopRun(f64),
}

impl Drawn {
    /// Whether it is a wheel that the chain runs round
    pub fn is_wheel(self) -> bool {
        matches!(self, Drawn::FrontWheel | Drawn::RearWheel) || self.is_driven()
    }

    /// Whether it is the wheel that drives
    pub fn is_driven(self) -> bool {
        matches!(self, Drawn::DriveWheel | Drawn::RaisedWheel)
    }

    /// As the rules write it, with the number of a row and the share of a length left out
    pub fn words(self) -> &'static str {
        match self {
            Drawn::FrontWheel => "front wheel",
            Drawn::RearWheel => "rear wheel",
            Drawn::DriveWheel => "drive wheel",
            Drawn::RaisedWheel => "raised wheel",
            Drawn::Hub => "hub",
            Drawn::BottomRow(_) => "bottom row",
            Drawn::TopRow(_) => "top row",
            Drawn::Frame(_) => "frame",
            Drawn::TopRun(_) => "top run",
        }
    }
}
