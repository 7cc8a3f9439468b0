import { documentFiles } from '../frame/download-files.ts';
import { Downloads } from '../frame/downloads.tsx';

/** The class on paper, or one section of it. */
export function ClassDocuments({ section }: { readonly section: string | null }) {
  return (
    <Downloads
      rows={[
        {
          what: section === null ? 'Class report' : 'Section report',
          says: 'who is asked to look again, the spread within and between groups, its causes, the rigs; groups by their codes',
          files: documentFiles('class', section === null ? {} : { section }),
        },
      ]}
    />
  );
}
