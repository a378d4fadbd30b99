import type { Language } from './language.ts';

export const de: Language = {
  code: 'de',
  decimal: ',',
  templates: {
    subject: 'Ihr Auftrag {job}',
    greeting: 'Guten Tag,',
    opening: 'vielen Dank für {files}. Wir haben uns das vor dem Schneiden angesehen.',
    change:
      'So lässt sich der Auftrag nicht schneiden: Bitte sehen Sie sich die folgenden Punkte an und schicken Sie uns die Dateien noch einmal.',
    question: 'Bevor wir sagen können, ob sich der Auftrag schneiden lässt, brauchen wir eine Antwort von Ihnen.',
    ours: 'Sie müssen nichts tun: Was noch offen ist, klären wir hier.',
    ready: 'Wir haben nichts gefunden, was Sie ändern müssten.',
    limits:
      'Das ist vor dem Schneiden gerechnet: Wie sich eine Platte verhält, zeigt sich an der Maschine, und was wir nicht gefunden haben, kann trotzdem da sein.',
    closing: 'Mit freundlichen Grüßen',
  },
  headings: {
    received: 'Was bei uns ankam',
    checked: 'Was wir geprüft haben',
    mustChange: 'Was zu ändern ist',
    noticed: 'Was uns außerdem auffiel',
    proposals: 'Was wir vorschlagen',
    questions: 'Was wir wissen müssen',
  },
  received: {
    artwork: '{file}: eine Zeichnung von {width} × {height} mm',
    artworkUnread: '{file}: eine Zeichnung, in der wir nichts Messbares gefunden haben',
    toolpath: '{file}: ein Programm mit {length} mm Schnitt',
    toolpathUnread: '{file}: ein Programm, dem wir nicht folgen konnten',
    sheet: 'Zu schneiden aus: {material}, {thickness}',
  },
  checked: {
    artwork: 'die Zeichnung: Größe, offene und doppelte Linien, schmale Stellen, Steckverbindungen',
    toolpath: 'das Programm: Weg, Strahl, Grenzen der Platte',
    match: 'ob Zeichnung und Programm zusammengehören',
    material: 'ob das Material in einen Laserschneider gehört',
    through: 'ob der Strahl auf der anderen Seite der Platte herauskommt',
  },
  place: {
    line: '{file}, Zeile {line}',
    file: '{file}',
    mark: 'Nr. {number} in {picture}',
    more: 'und an weiteren Stellen',
  },
  proposals: {
    stacked: '{layers} Lagen desselben Materials zu {thickness} mm, einzeln geschnitten und danach verbunden',
    thinner: 'dasselbe Material, höchstens {thickness} mm dick',
    material: 'ein anderes Material: Sagen Sie uns, wofür es ist, und wir nennen Ihnen, was wir schneiden können',
  },
  questions: {
    material:
      'Um welches Material handelt es sich genau? Bitte nennen Sie den Namen, unter dem es verkauft wurde, und schicken Sie das Sicherheitsdatenblatt mit, wenn Sie es haben.',
    thickness: 'Wie dick ist die Platte? Bitte messen Sie mit einem Messschieber nach.',
    task: 'Welche Linien sollen durch die Platte gehen, welche sind nur gezeichnet?',
    toolpath: 'Einem Teil des Programms konnten wir nicht folgen. Können Sie uns auch die Zeichnung als SVG schicken?',
    artwork:
      'Ein Teil der Zeichnung ließ sich nicht lesen. Soll dort etwas geschnitten werden? Bitte exportieren Sie sie noch einmal, alle Formen als Pfade.',
    file: 'Eine Datei, die der Auftrag nennt, kam nicht an. Können Sie sie uns schicken?',
  },
  askFor: {
    artwork: 'Die Zeichnung als SVG, Text und Bilder in Pfade umgewandelt, dazu Material und Dicke.',
    toolpath: 'Die Zeichnung als SVG, dazu Material und Dicke.',
    sidecar: 'Die Beschreibung des Auftrags noch einmal: Diese ließ sich nicht lesen.',
    folder: 'Die Dateien dieses Ordners einzeln: Er ließ sich nicht öffnen.',
    other: 'Die Zeichnung als SVG: Diese Art von Datei wird hier nicht gelesen.',
  },
  problems: {
    'artwork/active-content': {
      active:
        'Die Datei enthält ein Programm oder Verweise, die beim Öffnen etwas tun. Bitte exportieren Sie die reine Zeichnung.',
    },
    'artwork/duplicate-line': {
      twice:
        'Linien liegen übereinander, bis zu {times}-fach. Jede wird noch einmal gebrannt: Bitte löschen Sie die Doppel.',
    },
    'artwork/external-reference': {
      outside:
        'Die Zeichnung verwendet eine Datei, die nicht in ihr steckt. Bitte betten Sie sie ein oder schicken Sie sie mit.',
    },
    'artwork/feature-below-kerf': {
      narrow:
        'Eine Form ist nur {width} mm breit, und der Strahl selbst nimmt {kerf} mm weg. Bitte zeichnen Sie sie breiter oder als einzelne Linie.',
    },
    'artwork/live-text': {
      text: 'In der Zeichnung steht Text, der von den Schriften eines Rechners abhängt, zuerst {text}. Bitte wandeln Sie Text in Pfade um.',
    },
    'artwork/low-resolution-image': {
      coarse:
        'Ein Bild hat in dieser Größe nur {ppi} Pixel je Zoll (ab {limit} sieht man keine einzelnen Pixel). Bitte schicken Sie eine größere Vorlage.',
    },
    'artwork/nearly-closed': {
      gap: 'Ein Umriss ist um {gap} mm offen. Bitte schließen Sie ihn: Das Teil kann dort hängen bleiben.',
    },
    'artwork/no-physical-size': {
      assumed:
        'Die Zeichnung sagt nicht, wie groß sie ist; wir haben {width} × {height} mm gelesen. Bitte sagen Sie uns, ob das stimmt, oder exportieren Sie sie mit Breite und Höhe in Millimetern.',
    },
    'artwork/not-drawable': {
      left: 'Etwas in der Zeichnung hat keinen Umriss, der sich schneiden ließe, und blieb weg. Bitte wandeln Sie es in Pfade um oder nehmen Sie es heraus.',
      dashed:
        'Eine Linie ist gestrichelt gezeichnet und würde ganz geschnitten. Sind nur die Striche gemeint, zeichnen Sie sie bitte einzeln.',
      painted:
        'Eine Linie hat einen Farbverlauf oder ein Muster. Bitte geben Sie ihr eine einzige Farbe, damit wir wissen, wofür sie ist.',
      image:
        'In der Zeichnung steckt ein Bild, aus dem sich nichts schneiden lässt. Soll etwas daraus geschnitten werden, zeichnen Sie es bitte als Pfade.',
    },
    'artwork/nothing-to-cut': {
      leftOut:
        'In der Zeichnung ist kein Umriss, der sich schneiden ließe. Bitte zeichnen Sie als Pfade, was geschnitten werden soll.',
      undrawn: 'In der Datei ist nichts gezeichnet. Bitte sehen Sie nach, ob es die richtige ist.',
      blank: 'Die Datei ist leer. Bitte exportieren Sie sie noch einmal.',
    },
    'artwork/off-sheet': {
      off: 'Die Zeichnung ragt um {by} mm über die Platte von {width} × {height} mm hinaus. Bitte verschieben oder verkleinern Sie sie, oder wählen Sie eine größere Platte.',
    },
    'artwork/open-outline': {
      open: 'Ein Umriss, der ausgeschnitten werden soll, ist um {gap} mm offen. Bitte schließen Sie ihn, oder sagen Sie uns, dass er so gemeint ist.',
    },
    'artwork/overlapping-parts': {
      overlap:
        'Zwei Teile überlappen sich bei {x}; {y} mm: Jedes würde in das andere schneiden. Bitte rücken Sie sie auseinander oder vereinigen Sie sie.',
    },
    'artwork/scale-suspect': {
      suspect:
        'Die Zeichnung misst {width} × {height} mm, und das ist womöglich die falsche Größe: Gemeint scheint das {factor}-fache. Bitte prüfen Sie eine Länge, die Sie kennen.',
    },
    'artwork/self-crossing': {
      crossing:
        'Ein Umriss kreuzt sich selbst bei {x}; {y} mm: Was dazwischen liegt, fiele heraus. Bitte verschieben Sie die Punkte oder vereinigen Sie die Form.',
    },
    'artwork/slot-does-not-fit': {
      loose:
        'Schlitze sind {width} mm breit und säßen locker auf einer Platte von {thickness} mm. {fit} mm würden passen.',
      tight: 'Schlitze sind {width} mm breit und zu eng für eine Platte von {thickness} mm. {fit} mm würden passen.',
      tabs: 'Zapfen sind {width} mm lang, und die Platte ist {thickness} mm dick. Bitte prüfen Sie, ob das so gemeint ist.',
    },
    'artwork/unassigned-stroke': {
      unassigned:
        'Bei einigen Linien ist nicht klar, ob sie geschnitten oder nur gezeichnet werden sollen. Bitte sagen Sie es uns.',
    },
    'artwork/web-too-thin': {
      thin: 'Zwischen zwei Schnitten blieben nur {width} mm stehen, und was schmaler ist als {limit} mm, verbrennt oder bricht. Bitte rücken Sie die Linien auseinander.',
      weak: 'Zwischen zwei Schnitten blieben nur {width} mm stehen, weniger als die Platte dick ist ({thickness} mm). Wenn die Stelle etwas trägt, verbreitern Sie sie bitte.',
    },
    'match/extra-in-toolpath': {
      drawn: 'Das Programm brennt Linien, die in der Zeichnung fehlen. Bitte sagen Sie uns, was von beiden gilt.',
    },
    'match/mirrored': {
      mirrored: 'Das Programm ist das Spiegelbild der Zeichnung. Bitte sagen Sie uns, was von beiden gilt.',
    },
    'match/missing-in-toolpath': {
      missing: 'Linien der Zeichnung fehlen im Programm. Bitte sagen Sie uns, was von beiden gilt.',
    },
    'match/not-found': {
      artwork:
        'Zeichnung und Programm scheinen nicht zusammenzugehören. Bitte sehen Sie nach, ob beides die richtigen Dateien sind.',
    },
    'match/scale-differs': {
      scaled: 'Das Programm ist {scale}-mal so groß wie die Zeichnung. Bitte sagen Sie uns, was von beiden gilt.',
    },
    'material/hazardous': {
      never:
        'Dieses Material darf nicht in einen Laserschneider, wegen der Stoffe, die es abgibt. Bitte wählen Sie ein anderes.',
      reconsider:
        'Dieses Material gibt ab, was Menschen oder Maschinen schaden kann. Wir müssen zuerst sein Sicherheitsdatenblatt sehen; bitte überlegen Sie, ob ein anderes in Frage kommt.',
    },
    'material/not-cut-by-source': {
      through:
        'Unser Laser schneidet dieses Material nicht; er kann nur die Oberfläche zeichnen. Bitte sagen Sie uns, ob das genügt.',
      groove:
        'Unser Laser hinterlässt in diesem Material keine Rille; er kann nur die Oberfläche zeichnen. Bitte sagen Sie uns, ob das genügt.',
    },
    'material/transparent-to-source': {
      transparent:
        'Das Licht unseres Lasers geht durch dieses Material hindurch und hinterlässt nichts darin. Bitte wählen Sie ein anderes.',
    },
    'material/thickness-implausible': {
      unusual: 'Eine Dicke von {thickness} mm ist für dieses Material ungewöhnlich. Bitte messen Sie die Platte nach.',
      absurd: 'Eine Dicke von {thickness} mm kann nicht stimmen. Bitte messen Sie die Platte nach.',
    },
    'material/unknown': {
      declared:
        'Das Material ist nicht bekannt. Ohne sein Sicherheitsdatenblatt können wir es nicht unter den Strahl legen.',
      notFound:
        'Ein Material dieses Namens kennen wir nicht. Bitte nennen Sie den Namen, unter dem es verkauft wurde, und schicken Sie sein Sicherheitsdatenblatt mit.',
      kindOnly: 'Der Name des Materials sagt nicht, welche Sorte es ist, und davon hängt ab, was es abgibt.',
      likeHazardous:
        'Der Name des Materials ähnelt einem, das nicht ohne Weiteres geschnitten werden darf. Bitte schicken Sie sein Sicherheitsdatenblatt.',
    },
    'input/syntax':
      'Die Datei ist nicht so geschrieben, wie es ihre Art von Datei verlangt, und eine Maschine kann sie anders lesen. Bitte exportieren Sie sie noch einmal, eine Zeichnung als reines SVG.',
    'input/unreadable': {
      unreadable:
        'Eine Datei, die zum Auftrag gehört, fehlt oder lässt sich nicht öffnen. Bitte schicken Sie sie noch einmal.',
    },
    'toolpath/off-sheet': {
      off: 'Das Programm verlässt die Platte von {width} × {height} mm um {by} mm. Bitte verschieben Sie den Auftrag, oder wählen Sie eine größere Platte.',
      tooLarge:
        'Das Programm braucht {size} mm, und die Platte hat {width} × {height} mm. Bitte wählen Sie eine größere Platte, oder teilen Sie den Auftrag.',
    },
    'toolpath/off-bed': {
      tooLarge: 'Der Auftrag ist {size} mm lang, mehr, als wir in einem Stück schneiden können. Bitte teilen Sie ihn.',
    },
    'toolpath/wrong-kind': {
      kind: 'Das Programm wurde für eine andere Art von Maschine geschrieben. Bitte schicken Sie die Zeichnung, oder ein Programm für einen Laserschneider.',
    },
    'toolpath/not-analysed': {
      incomplete:
        'Das Programm verwendet Befehle, denen wir nicht folgen können. Bitte schicken Sie es als einfache Bewegungen, oder schicken Sie die Zeichnung.',
      code: 'Das Programm verwendet einen Befehl, den wir nicht kennen. Bitte lassen Sie ihn weg, oder schicken Sie die Zeichnung.',
      blockDelete:
        'Einige Zeilen des Programms sind als wahlweise gekennzeichnet. Bitte nehmen Sie die Zeilen oder die Kennzeichen heraus.',
      unfollowed:
        'Dem Programm ließ sich nicht bis zum Ende folgen. Bitte exportieren Sie es noch einmal, oder schicken Sie die Zeichnung.',
    },
    'toolpath/units-suspect': {
      changed:
        'Das Programm wechselt unterwegs zwischen Zoll und Millimetern. Bitte exportieren Sie es in Millimetern.',
      ahead: 'Das Programm nennt Zoll und Millimeter zugleich. Bitte exportieren Sie es in Millimetern.',
      mixed:
        'Das Programm nennt seine Einheiten auf zwei Arten, die sich widersprechen. Bitte exportieren Sie es in Millimetern.',
      large:
        'Das Programm misst {width} × {height} mm, vermutlich in der falschen Einheit. Bitte exportieren Sie es in Millimetern.',
      small:
        'Das Programm misst {width} × {height} mm, viel weniger als die Zeichnung. Bitte exportieren Sie es in Millimetern.',
      notStated:
        'Das Programm sagt nicht, ob es in Zoll oder Millimetern rechnet; wir haben Millimeter gelesen. Bitte sagen Sie uns, ob das stimmt.',
    },
    'cut/out-of-reach': { outOfReach: 'Eine so dicke Platte dieses Materials ist mehr, als unser Laser durchdringt.' },
  },
};
