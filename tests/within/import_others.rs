use super::*;

#[test]
fn words_go_before_letters_and_passives_are_never_taken() {
    let of = |name: &str, words: &[&str]| kind(&[name.to_owned()], words);
    for (name, words, expected) in [
        ("K1", &["24V 2CO"] as &[&str], Some(OtherKind::Relay)),
        ("RL3", &[], Some(OtherKind::Relay)),
        ("F1", &["T2A 250V"], Some(OtherKind::Fuse)),
        ("F2", &["ferrite bead 600R"], None),
        ("XF1", &["Fuse holder 5x20"], Some(OtherKind::Connector)),
        ("RV1", &["Varistor 275V"], Some(OtherKind::Varistor)),
        ("RV2", &["10k trimmer"], Some(OtherKind::Other)),
        ("RV3", &["10k"], None),
        ("U7", &["Optocoupler 4 pin"], Some(OtherKind::Optocoupler)),
        ("U8", &["op amp"], None),
        ("M1", &["Fan 80 mm 24 V"], Some(OtherKind::Fan)),
        ("BT1", &["3 V"], Some(OtherKind::Battery)),
        ("R4", &["relay damping 100R"], None),
        ("P1:J2", &[], Some(OtherKind::Connector)),
        ("U9", &["microfanout buffer"], None),
        ("U3", &["OPTOISO 5KV TRANSISTOR 4DIP"], Some(OtherKind::Optocoupler)),
        ("R20", &["TRIMMER 5K 0.5W TOP"], Some(OtherKind::Other)),
        ("F1", &["Feinsicherung T 4A"], Some(OtherKind::Fuse)),
        ("F2", &["FUSE GLASS 500MA", "Fuseholder_5x20"], Some(OtherKind::Fuse)),
        ("F3", &["Sicherungshalter 5x20"], Some(OtherKind::Connector)),
        ("K3", &["Schütz 24V"], Some(OtherKind::Relay)),
        ("X1", &["Anschlussklemme"], Some(OtherKind::Connector)),
        ("PO1", &["Pojistka trubičková"], Some(OtherKind::Fuse)),
        ("RE2", &["Relé 24V"], Some(OtherKind::Relay)),
        ("V1", &["Ventilátor 24V"], Some(OtherKind::Fan)),
        ("R9", &["10k"], None),
    ] {
        assert_eq!(of(name, words), expected, "{name} {words:?}");
    }
}
