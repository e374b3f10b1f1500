//! From role to ink, in four schemes, and how well each ink reads.

/// What a line, a surface or a word is; the only colour a drawing knows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Role {
    /// What everything is drawn on.
    Paper,
    /// The sea in section.
    Water,
    /// Its surface.
    Waterline,
    /// Topsides.
    Hull,
    /// Hull below the waterline.
    Underbody,
    /// Coachroof.
    Roof,
    /// Outline of the hull, deck, coachroof, seat, step and partners.
    HullLine,
    /// Panels with odd numbers.
    Cloth,
    /// Panels with even numbers: in turn, so that panels count themselves.
    ClothOther,
    /// Edges of cloth.
    ClothEdge,
    /// Yard, battens, boom.
    Spar,
    /// Wood or metal of the mast.
    Mast,
    /// Outline of the mast.
    MastLine,
    /// Mast where cloth or hull covers it.
    MastGhost,
    /// Lifts and halyard.
    Line,
    /// Where the halyard takes the yard.
    Sling,
    /// Parrel marks.
    Parrel,
    /// Dimension lines and their numbers.
    Dimension,
    /// Words beside things.
    Note,
    /// Numbers of panels.
    Number,
    /// Name of the drawing.
    Title,
    /// Centre of effort.
    Centre,
    /// Where the centre of effort goes as panels are lowered.
    Trail,
    /// What the hand can hold.
    Handle,
    /// What the hand holds now.
    Accent,
    /// Scale bar.
    ScaleBar,
}

impl Role {
    /// Every role.
    pub const ALL: [Role; 26] = [
        Role::Paper,
        Role::Water,
        Role::Waterline,
        Role::Hull,
        Role::Underbody,
        Role::Roof,
        Role::HullLine,
        Role::Cloth,
        Role::ClothOther,
        Role::ClothEdge,
        Role::Spar,
        Role::Mast,
        Role::MastLine,
        Role::MastGhost,
        Role::Line,
        Role::Sling,
        Role::Parrel,
        Role::Dimension,
        Role::Note,
        Role::Number,
        Role::Title,
        Role::Centre,
        Role::Trail,
        Role::Handle,
        Role::Accent,
        Role::ScaleBar,
    ];

    /// True for surfaces, on which the others are drawn.
    pub const fn is_ground(self) -> bool {
        matches!(
            self,
            Role::Paper
                | Role::Water
                | Role::Hull
                | Role::Underbody
                | Role::Roof
                | Role::Cloth
                | Role::ClothOther
                | Role::Mast
        )
    }

    /// True for roles that words are set in.
    pub const fn is_lettering(self) -> bool {
        matches!(
            self,
            Role::Dimension | Role::Note | Role::Number | Role::Title | Role::ScaleBar
        )
    }
}

/// Which inks are mixed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Scheme {
    /// Ink on paper.
    #[default]
    Light,
    /// For a dark cabin.
    Dark,
    /// On white paper: no ink for grounds but the cloth, and that thin.
    Print,
    /// The same as a black and white printer gives it.
    Grey,
}

/// A colour in sRGB, eight bits each.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Ink {
    /// Red.
    pub red: u8,
    /// Green.
    pub green: u8,
    /// Blue.
    pub blue: u8,
}

impl Ink {
    /// Of `0xrrggbb`.
    pub const fn hex(code: u32) -> Self {
        Self {
            red: (code >> 16) as u8,
            green: (code >> 8) as u8,
            blue: code as u8,
        }
    }

    /// `#rrggbb`, as CSS and SVG write it.
    pub fn css(self) -> String {
        const DIGITS: &[u8; 16] = b"0123456789abcdef";
        let mut code = String::with_capacity(7);
        code.push('#');
        for part in [self.red, self.green, self.blue] {
            for digit in [part >> 4, part & 15] {
                code.push(char::from(DIGITS[usize::from(digit & 15)]));
            }
        }
        code
    }

    /// Relative luminance, 0 = black, 1 = white.
    ///
    /// Source: Web Content Accessibility Guidelines 2.2, "relative luminance".
    pub fn luminance(self) -> f64 {
        let linear = |part: u8| {
            let share = f64::from(part) / 255.0;
            if share <= 0.04045 {
                share / 12.92
            } else {
                boat::power((share + 0.055) / 1.055, 2.4)
            }
        };
        0.2126 * linear(self.red) + 0.7152 * linear(self.green) + 0.0722 * linear(self.blue)
    }

    /// The grey of the same luminance.
    fn grey(self) -> Self {
        let y = self.luminance();
        let share = if y <= 0.003_130_8 {
            12.92 * y
        } else {
            1.055 * boat::power(y, 1.0 / 2.4) - 0.055
        };
        let part = (share * 255.0).round() as u8;
        Self {
            red: part,
            green: part,
            blue: part,
        }
    }
}

/// Contrast of two inks, 1 to 21.
///
/// Source: Web Content Accessibility Guidelines 2.2, "contrast ratio": (L1 + 0.05) / (L2 + 0.05).
pub fn contrast(one: Ink, other: Ink) -> f64 {
    let (a, b) = (one.luminance(), other.luminance());
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

/// The ink of a role.
pub fn ink(role: Role, scheme: Scheme) -> Ink {
    let (light, dark) = inks(role);
    match scheme {
        Scheme::Light => Ink::hex(light),
        Scheme::Dark => Ink::hex(dark),
        Scheme::Print => Ink::hex(printed(role).unwrap_or(light)),
        Scheme::Grey => Ink::hex(printed(role).unwrap_or(light)).grey(),
    }
}

/// Ink of a ground on white paper.
const fn printed(role: Role) -> Option<u32> {
    match role {
        Role::Paper | Role::Water | Role::Hull | Role::Underbody | Role::Roof => Some(0xFFFFFF),
        Role::Cloth => Some(0xF0E3D5),
        Role::ClothOther => Some(0xE2CDB6),
        Role::Mast => Some(0xF4EADB),
        _ => None,
    }
}

/// Light and dark ink of a role.
const fn inks(role: Role) -> (u32, u32) {
    match role {
        Role::Paper => (0xF7F4EC, 0x0F1A21),
        Role::Water => (0xCFE0E2, 0x16303A),
        Role::Waterline => (0x35505A, 0x8FB7C2),
        Role::Hull => (0xFCFBF8, 0x1D2B32),
        Role::Underbody => (0xE6EEED, 0x1B323B),
        Role::Roof => (0xF0ECE0, 0x24343C),
        Role::Cloth => (0xE9D3BE, 0x4A3D31),
        Role::ClothOther => (0xDDBF9F, 0x3A2F26),
        Role::ClothEdge => (0x5A452C, 0xCBB093),
        Role::Spar => (0x5B3A1E, 0xE0B687),
        Role::Mast => (0xEADCC6, 0x3A352D),
        Role::MastLine => (0x4A3521, 0xDCC3A0),
        Role::MastGhost => (0x604A31, 0xC2A98B),
        Role::Line => (0x3C4C53, 0xC3CCCB),
        Role::HullLine | Role::Sling | Role::Parrel | Role::Number | Role::Title => {
            (0x16242B, 0xEDE8DC)
        }
        Role::Note | Role::ScaleBar => (0x22313A, 0xDEDCD2),
        Role::Dimension => (0x24343B, 0xD6D8D1),
        Role::Centre | Role::Trail => (0x0B4F5D, 0x7FD3E0),
        Role::Handle | Role::Accent => (0x8A2F1D, 0xFF9E84),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const SCHEMES: [Scheme; 4] = [Scheme::Light, Scheme::Dark, Scheme::Print, Scheme::Grey];

    fn grounds() -> impl Iterator<Item = Role> {
        Role::ALL.into_iter().filter(|role| role.is_ground())
    }

    /// Values to be found in the guidelines themselves and their techniques: black on white is 21,
    /// #767676 on white is the greyest text that still passes 4.5 (Technique G18).
    #[test]
    fn contrast_agrees_with_published_pairs() {
        let white = Ink::hex(0xFFFFFF);
        assert!((contrast(Ink::hex(0), white) - 21.0).abs() < 1e-9);
        assert!(contrast(Ink::hex(0x767676), white) >= 4.5);
        assert!(contrast(Ink::hex(0x777777), white) < 4.5);
    }

    #[test]
    fn words_read_seven_to_one_on_every_ground_in_every_scheme() {
        for scheme in SCHEMES {
            for ground in grounds() {
                for role in Role::ALL.into_iter().filter(|role| role.is_lettering()) {
                    let found = contrast(ink(role, scheme), ink(ground, scheme));
                    assert!(
                        found >= 7.0,
                        "{role:?} on {ground:?}, {scheme:?}: {found:.2}"
                    );
                }
            }
        }
    }

    #[test]
    fn lines_read_four_and_a_half_to_one_on_every_ground_in_every_scheme() {
        for scheme in SCHEMES {
            for ground in grounds() {
                for role in Role::ALL.into_iter().filter(|role| !role.is_ground()) {
                    let found = contrast(ink(role, scheme), ink(ground, scheme));
                    assert!(
                        found >= 4.5,
                        "{role:?} on {ground:?}, {scheme:?}: {found:.2}"
                    );
                }
            }
        }
    }

    #[test]
    fn the_accent_reads_as_text_on_paper() {
        for scheme in SCHEMES {
            assert!(contrast(ink(Role::Accent, scheme), ink(Role::Paper, scheme)) >= 7.0);
        }
    }

    /// Neighbouring panels differ enough to be counted, even in grey; 1.2 is what was found to
    /// show on paper and on screen (common practice). Numbers carry the meaning all the same.
    #[test]
    fn cloth_alternates_visibly_and_stands_off_the_paper() {
        for scheme in SCHEMES {
            let [one, other, paper] =
                [Role::Cloth, Role::ClothOther, Role::Paper].map(|role| ink(role, scheme));
            assert!(contrast(one, other) >= 1.2, "{scheme:?}");
            assert!(contrast(one, paper) >= 1.25, "{scheme:?}");
            assert!(contrast(other, paper) >= 1.25, "{scheme:?}");
        }
    }

    #[test]
    fn paper_takes_ink_for_cloth_and_mast_alone() {
        for scheme in [Scheme::Print, Scheme::Grey] {
            let inked = grounds().filter(|role| ink(*role, scheme) != Ink::hex(0xFFFFFF));
            assert!(
                inked.eq([Role::Cloth, Role::ClothOther, Role::Mast]),
                "{scheme:?}"
            );
        }
    }

    #[test]
    fn an_ink_is_written_as_css_writes_it() {
        assert_eq!(ink(Role::Paper, Scheme::Light).css(), "#f7f4ec");
        assert_eq!(Ink::hex(0x00A1FF).css(), "#00a1ff");
    }
}
