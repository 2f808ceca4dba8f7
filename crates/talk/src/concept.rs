//! The concepts that the lexicon's phrases stand for.

macro_rules! concepts {
    ($($(#[$doc:meta])* $name:ident = $word:literal),* $(,)?) => {
        /// What a phrase of the lexicon stands for. One variant a section of the lexicon files.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
        pub(crate) enum Concept {
            $($(#[$doc])* $name),*
        }

        impl Concept {
            /// The concept of a section heading.
            pub(crate) fn named(word: &str) -> Option<Self> {
                match word {
                    $($word => Some(Self::$name),)*
                    _ => None,
                }
            }

            /// The section heading.
            pub(crate) fn name(self) -> &'static str {
                match self {
                    $(Self::$name => $word),*
                }
            }
        }
    };
}

impl Concept {
    /// Brood of any kind, as what a comb holds.
    pub(crate) fn is_brood(self) -> bool {
        matches!(
            self,
            Self::Brood | Self::SealedBrood | Self::Drone | Self::DroneAndWorker
        )
    }

    /// What the cells of a comb may hold: brood, eggs and stores.
    pub(crate) fn is_held(self) -> bool {
        self.is_brood() || matches!(self, Self::Eggs | Self::Honey | Self::Unripe | Self::Pollen)
    }

    /// A verdict on a comb: it goes, it stays, it waits.
    pub(crate) fn is_verdict(self) -> bool {
        matches!(self, Self::Take | Self::Leave | Self::Aside)
    }
}

concepts! {
    Comb = "comb", Bar = "bar", Honey = "honey", Unripe = "unripe", Open = "open",
    Brood = "brood", SealedBrood = "sealed_brood", Drone = "drone",
    DroneAndWorker = "drone_and_worker", DroneBees = "drone_bees", Eggs = "eggs",
    Pollen = "pollen", Empty = "empty", NewComb = "new_comb", CombMade = "comb_made",
    NoComb = "no_comb", FillFull = "fill_full", FillPart = "fill_part", FillLight = "fill_light",
    AttachedYes = "attached_yes", AttachedNo = "attached_no", Stuck = "stuck", Holding = "holding", Free = "free", Wall = "wall", Container = "container", SplitBox = "splitbox", StraightYes = "straight_yes",
    StraightNo = "straight_no",
    Capped = "capped", Uncapped = "uncapped", Share = "share", More = "more", Less = "less", Extent = "extent",
    WhiteCap = "whitecap", This = "this", Other = "other", Both = "both", Rest = "rest",
    Take = "take", Leave = "leave", Lost = "lost", Aside = "aside", Unsure = "unsure",
    All = "all", BothOf = "both_of", Those = "those", That = "that", Previous = "previous",
    AsideRef = "aside_ref", Next = "next", Last = "last", First = "first", Number = "number",
    Same = "same", Undo = "undo", Correct = "correct", AfterAll = "after_all",
    OpenEnd = "open_end", End = "end", Left = "left", Right = "right", HiveSide = "hive_side",
    HiveWall = "hive_wall", Close = "close", FromNest = "from_nest", FromBoard = "from_board",
    Follower = "follower", Shim = "shim", Cut = "cut", EmptyBar = "empty_bar", Then = "then",
    Settled = "settled",
    Degrees = "degrees", Fahrenheit = "fahrenheit", Celsius = "celsius", Weather = "weather",
    Kg = "kg", Gram = "g", Pound = "lb", Stone = "stone", Ounce = "oz", Weigh = "weigh", Mm = "mm", Cm = "cm",
    Inch = "inch", Thick = "thick", Litre = "litre", Ml = "ml", Gallon = "gallon",
    Quart = "quart", Pint = "pint", Feed = "feed", Syrup = "syrup", ThinSyrup = "thin_syrup",
    ThickSyrup = "thick_syrup", Fondant = "fondant", DrySugar = "dry_sugar", Patty = "patty",
    HoneyFeed = "honey_feed", Mites = "mites", Bees = "bees", Wash = "wash",
    HalfCup = "half_cup", Queen = "queen", She = "she", See = "see", NotSeen = "not_seen",
    QueenCell = "queen_cell", Cups = "cups", Cells = "cells", Small = "small", Total = "total", Not = "none",
    Filler = "filler", Ignored = "ignored", Idiom = "idiom", If = "if", Would = "would",
    Future = "future", Past = "past", Elsewhere = "elsewhere", People = "people",
    Advice = "advice", But = "but", Here = "here", And = "no_comb_word",
    /// A number, whole or with a fraction.
    Num = "#number",
    /// An ordinal: first is 1.
    Ord = "#ordinal",
    /// The ratio of sugar to water.
    Ratio = "#ratio",
    /// The end of a clause that is written: a full stop, a comma.
    Stop = "#stop",
    /// A word that the lexicon does not know.
    Word = "#word",
}
